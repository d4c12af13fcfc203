package cmd

import (
	"io"

	"glassbrief/cmd/report"
	"glassbrief/engine/answer"
	"glassbrief/engine/audit"
)

// recommendReport writes an answer as a file to look at, with what stands beside it, and all of its
// shots and lenses where they are many.
func (a *app) recommendReport(to io.Writer, r *answer.Answer, all bool) error {
	return report.Writer{Printer: a.printer(), All: all}.Recommendation(to, r)
}

// auditReport writes the answer to the producer as a file to look at.
func (a *app) auditReport(to io.Writer, r *audit.Answer) error {
	return report.Writer{Printer: a.printer()}.Audit(to, auditPage(r, a.printer()), r)
}
