package cmd

import (
	"slices"
	"strings"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/lang"
	"glassbrief/lang/codepage"

	"github.com/spf13/cobra"
)

// explainData is what "explain" says to programs.
type explainData struct {
	travel.Header
	Codes []codeData `json:"codes"`
}

type codeData struct {
	codeRow
	Wrong string `json:"wrong"`
	Right string `json:"right"`
}

// codeRow is a line of CSV, whose cells have no lines.
type codeRow struct {
	Code    lang.Code `json:"code"`
	Meaning string    `json:"meaning"`
	About   string    `json:"about"`
}

// explain is the verb that says what the codes of diagnostics mean.
func (a *app) explain() *cobra.Command {
	return &cobra.Command{
		Use:   "explain [CODE]",
		Short: "what a code of a diagnostic means, by an example",
		Long: `Every fault and every warning has a code, which --as json has and an editor
shows. With a code, this says what it is about, with a text that brings it about
and the same text put right; without one it lists all codes. What a scenario
needs besides is left out of the texts.`,
		Example: `  glassbrief explain
  glassbrief explain missing-unit`,
		Args: atMostOne("code"),
		RunE: func(c *cobra.Command, args []string) error {
			if err := a.loadSettings(""); err != nil {
				return err
			}
			names := codeNames()
			if len(args) == 1 {
				if !slices.Contains(names, args[0]) {
					return usage(lang.UnknownName, "%q is no code of a diagnostic", args[0]).
						or(lang.Nearest(args[0], names)).because("%s lists them.", c.CommandPath())
				}
				names = args
			}
			data, rows := explainData{travel.HeaderOf("explain"), codesData(names)}, []codeRow{}
			for _, c := range data.Codes {
				rows = append(rows, c.codeRow)
			}
			return a.show(view{data: data, rows: rowsOf(rows), page: func(lang.Printer) show.Page { return explainPage(data.Codes, len(args) == 1) }})
		},
	}
}

// codesData says what there is to say of codes.
func codesData(names []string) (all []codeData) {
	for _, name := range names {
		page, _ := codepage.Of(lang.Code(name))
		all = append(all, codeData{codeRow{page.Code, page.Meaning, page.About}, page.Wrong, page.Right})
	}
	return all
}

func codeNames() (names []string) {
	for _, row := range lang.Codes() {
		names = append(names, string(row.Code))
	}
	return names
}

func explainPage(codes []codeData, full bool) show.Page {
	var out show.Page
	if !full {
		g := show.Grid{Columns: []show.Column{{Title: "code"}, {Title: "meaning", Wraps: true}}}
		for _, c := range codes {
			g.Rows = append(g.Rows, []show.Cell{{Text: string(c.Code), Tone: show.Strong}, {Text: c.Meaning}})
		}
		out.Grid(g)
		return out
	}
	c := codes[0]
	out.Heading(string(c.Code) + ": " + c.Meaning)
	out.Paragraph(c.About)
	if c.Wrong == "" {
		return out
	}
	out.Heading("Wrong")
	out.File(c.Wrong)
	out.Heading("Right")
	out.File(c.Right)
	if strings.Contains(c.Wrong, "⟨") {
		out.Paragraph("⟨text × n⟩ stands for that text n times.")
	}
	return out
}
