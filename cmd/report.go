package cmd

import (
	"context"
	"io"

	"glassbrief/cmd/report"
	"glassbrief/engine"
	"glassbrief/engine/audit"
)

// recommendReport writes an answer as a file to look at, with the other candidate cameras
// beside it.
func (a *app) recommendReport(ctx context.Context, to io.Writer, answer *engine.Recommendation, live string) error {
	answers := []*engine.Recommendation{answer}
	for _, camera := range answer.Scenario.Cameras {
		if camera == answer.Camera {
			continue
		}
		other, err := engine.Recommend(ctx, answer.Scenario, engine.Options{Camera: camera.Name.Value, Printer: a.printer()})
		if err != nil {
			return err
		}
		answers = append(answers, other)
	}
	table, err := answer.Scenario.Judge(ctx, engine.Options{Camera: answer.Camera.Name.Value})
	if err != nil {
		return err
	}
	plan := report.Plan{Answers: answers, Sizes: table.Sizes(engine.Options{})}
	return report.Writer{Printer: a.printer(), Live: live}.Recommendation(to, plan)
}

// auditReport writes the answer to the producer as a file to look at.
func (a *app) auditReport(to io.Writer, r *audit.Report) error {
	page := auditPage(r, a.printer())
	return report.Writer{Printer: a.printer()}.Audit(to, page.title(), r, page.reportBlocks())
}
