package cmd

import (
	"fmt"
	"io"
	"strings"

	"glassbrief/catalog/sheet"
	"glassbrief/cmd/show"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// A topic is a page of help about something that is no verb, or that a verb has only a part of. It is
// made from the tables that the program itself works by.
type topic struct {
	name, short string
	page        func(lang.Printer) show.Page
}

var topics = []topic{
	{"exit-codes", "what the exit code says", func(lang.Printer) show.Page { return exitPage() }},
	{"units", "every unit, and how quantities are written", func(lang.Printer) show.Page { return unitsPage() }},
	{"rules", "what expressions may read and call", vocabularyPage},
	{"codes", "the codes of faults and warnings", func(lang.Printer) show.Page { return explainPage(codesData(codeNames()), false) }},
	{"languages", "the titles of columns that lists may have, in six languages", func(lang.Printer) show.Page { return languagesPage() }},
	{"bugs", "where faults of the program go", func(lang.Printer) show.Page { return bugsPage() }},
}

// topicOf gives the topic that "help" is asked for, or nil.
func topicOf(args []string) *topic {
	if len(args) != 1 {
		return nil
	}
	for i := range topics {
		if topics[i].name == args[0] {
			return &topics[i]
		}
	}
	return nil
}

func topicNames() (names []string) {
	for _, t := range topics {
		names = append(names, t.name)
	}
	return names
}

// topicLines lists the topics as the help of the root does.
func topicLines() string {
	var lines strings.Builder
	for _, t := range topics {
		fmt.Fprintf(&lines, "  %-11s  %s\n", t.name, t.short)
	}
	return lines.String()
}

// manualWidth is how wide the page of a topic is in the manual, which indents it.
const manualWidth = 72

// Manual gives the tree of verbs as [Root] does, with "help" and its topics, whose long help is their page as
// code of Markdown: what makes manual pages from Markdown breaks tables whose cells wrap.
func Manual() (*cobra.Command, error) {
	a := newApp(nil, io.Discard, io.Discard)
	a.addVerbs(nil)
	help := a.help() // another than the help command of the root, which generators leave out
	a.root.AddCommand(help)
	for _, t := range topics {
		page := t.page(lang.Printer{})
		var text strings.Builder
		if err := page.Text(&text, show.NewPalette(false), manualWidth); err != nil {
			return nil, err
		}
		long := "    " + strings.ReplaceAll(strings.TrimSpace(text.String()), "\n", "\n    ")
		help.AddCommand(&cobra.Command{Use: t.name, Short: t.short, Long: long, Run: func(*cobra.Command, []string) {}})
	}
	return a.root, nil
}

func exitPage() show.Page {
	var out show.Page
	out.Heading("Exit codes")
	g := show.Grid{Columns: []show.Column{{Title: "code", Right: true}, {Title: "means", Wraps: true}, {Title: "such as", Wraps: true}}}
	for code, row := range exitCodes {
		g.Rows = append(g.Rows, []show.Cell{{Text: fmt.Sprint(code), Tone: show.Strong}, {Text: row.means}, {Text: row.such}})
	}
	out.Grid(g)
	out.Paragraph("Results go to standard output and all else to standard error. With --as json what is wrong is a document of its own there, whose schema is \"diagnostics\"; \"glassbrief explain\" says what its codes mean.")
	return out
}

func unitsPage() show.Page {
	var out show.Page
	out.Heading("Units")
	g := show.Grid{Columns: []show.Column{{Title: "measures"}, {Title: "units", Wraps: true}, {Title: "also read", Wraps: true}, {Title: "written", Wraps: true}}}
	for _, dim := range lang.Dimensions() {
		g.Rows = append(g.Rows, []show.Cell{
			{Text: dim.String(), Tone: show.Strong}, {Text: strings.Join(lang.UnitNames(dim), " ")}, {Text: strings.Join(lang.UnitAliases(dim), " ")}, {Text: strings.TrimPrefix(dim.Example(), "like ")},
		})
	}
	out.Grid(g)
	out.Paragraph("A space between a number and its unit is allowed. Two units make a quotient, as \"m/min\", and money is written with the code of its currency. An interval is \"1.6m..2.8m\", a size \"36mm x 24mm\", a ratio \"2.39:1\", a list \"2, 4, 6 stops\". What is not given is unknown, which is never zero.")
	out.Paragraph("With --units imperial, answers have feet, inches, pounds and footcandles; files are read in any units whatever is set.")
	return out
}

// vocabularyPage is all that expressions may name.
func vocabularyPage(p lang.Printer) show.Page {
	var out show.Page
	out.Heading("Expressions")
	out.Paragraph("\"need\" and \"prefer\" of a shot, and \"veto\", \"limit\", \"score\", \"lack\", \"when\" and \"fact\" of a file of rules, take an expression: facts and quantities with their units, joined by + - * /, by < <= > >= == !=, by \"and\", \"or\", \"not\", and by \"condition ? a : b\". It is checked for its dimension before anything runs. What reads an unknown fact is unknown: it excludes nothing and does not count.")
	vocabulary := factsPage(factsDataOf(""), false, p)
	out.Blocks = append(out.Blocks, vocabulary.Blocks...)
	out.Paragraph("\"glassbrief facts\" with a word gives formulas and sources, \"glassbrief rules show\" the standard criteria.")
	return out
}

func languagesPage() show.Page {
	var out show.Page
	out.Paragraph("\"catalog import\" and \"begin\" read lists by the titles of their columns, whatever their case, accents and order. \"catalog import --dry-run\" says how a list is understood, and --column what a title means that is not here.")
	kind := ""
	var g *show.Grid
	for _, h := range sheet.Headings() {
		if h.Kind != kind {
			kind = h.Kind
			out.Heading("Columns of a " + kind)
			out.Grid(show.Grid{Columns: []show.Column{{Title: "is"}, {Title: "in"}, {Title: "titles", Wraps: true}}})
			g = out.Blocks[len(out.Blocks)-1].Grid
		}
		name := h.Keyword
		for i, titles := range h.Titles {
			if titles != "" {
				g.Rows = append(g.Rows, []show.Cell{{Text: name, Tone: show.Strong}, {Text: sheet.Languages[i]}, {Text: titles}})
				name = ""
			}
		}
	}
	return out
}

func bugsPage() show.Page {
	var out show.Page
	out.Heading("Faults of the program")
	out.Paragraph("Exit code 3 says that the program failed, or that its result could not be written. Report a failure, and any answer that you can show to be wrong, to those from whom you have the program: whoever keeps the repository that it was built from, or the package that was installed. The program itself knows no address and sends nothing.")
	out.Paragraph("Send the command, the files that it read, what it prints with --verbose, and what \"glassbrief --version\" prints. A file can often be cut down to the one shot or lens that shows the fault.")
	return out
}
