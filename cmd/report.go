package cmd

import (
	"context"
	"io"

	"glassbrief/cmd/report"
	"glassbrief/engine"
	"glassbrief/engine/audit"
)

// recommendReport writes an answer as a file to look at, with what stands beside it and
// every shot on the other candidate cameras.
func (a *app) recommendReport(ctx context.Context, to io.Writer, beside *around, live string) error {
	plan := report.Plan{
		Answers: []*engine.Recommendation{beside.answer}, Sizes: beside.sizes, Second: beside.second,
		Cameras: beside.cameras, Best: beside.best, Nearby: beside.nearby, Flip: beside.flip,
	}
	for i := range beside.cameras {
		c := &beside.cameras[i]
		if c.Camera == beside.answer.Camera {
			continue
		}
		other, err := c.Table.Answer(ctx, &c.Choice, engine.Options{})
		if err != nil {
			return err
		}
		plan.Answers = append(plan.Answers, other)
	}
	return report.Writer{Printer: a.printer(), Live: live}.Recommendation(to, plan)
}

// auditReport writes the answer to the producer as a file to look at.
func (a *app) auditReport(to io.Writer, r *audit.Answer) error {
	return report.Writer{Printer: a.printer()}.Audit(to, auditPage(r, a.printer()), r)
}
