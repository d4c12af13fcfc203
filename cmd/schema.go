package cmd

import (
	"encoding/json"
	"strings"

	"glassbrief/cmd/schema"
	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// schemasData is what "schema" says to programs.
type schemasData struct {
	travel.Header
	Schemas []schemaData `json:"schemas"`
}

type schemaData struct {
	Name  string `json:"name"`
	ID    string `json:"id"`
	Title string `json:"title"`
}

// schema is the verb that prints the schemas of what other verbs give to programs.
func (a *app) schema() *cobra.Command {
	return &cobra.Command{
		Use:   "schema [NAME]",
		Short: "the JSON schema of what a verb gives to programs",
		Long: `Prints the schema of the document that a verb gives with --as json: every key,
with its type and what it holds. The name is that of the verb, or what a
document itself says under its key "schema". Without a name it lists all. The
"$id" of a schema is a name and no address. Within an edition, which is the
number at the end of both names, keys may be added, and none goes or changes.`,
		Example: `  glassbrief schema
  glassbrief schema recommend
  glassbrief schema catalog list
  glassbrief schema glassbrief/check/1 -o check.json`,
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) > 0 {
				return a.oneSchema(c, strings.Join(args, "-"))
			}
			if err := a.loadSettings(""); err != nil {
				return err
			}
			data := schemasData{travel.HeaderOf("schema"), nil}
			for _, name := range schema.Names() {
				var is struct {
					ID    string `json:"$id"`
					Title string `json:"title"`
				}
				text, _ := schema.Text(name)
				if err := json.Unmarshal(text, &is); err != nil {
					return err
				}
				data.Schemas = append(data.Schemas, schemaData{name, is.ID, is.Title})
			}
			return a.show(view{data: data, rows: rowsOf(data.Schemas), page: func(lang.Printer) show.Page { return schemasPage(data.Schemas) }})
		},
	}
}

// oneSchema prints the schema of a name: of a document, or of a verb with dashes between its words.
func (a *app) oneSchema(c *cobra.Command, name string) error {
	if a.form.value != "text" && a.form.value != "json" {
		return a.noForm()
	}
	short := strings.TrimSuffix(strings.TrimPrefix(name, "glassbrief/"), "/1")
	text, ok := schema.Text(short)
	if !ok {
		return usage(lang.UnknownName, "there is no schema %q", name).
			or(lang.Nearest(short, schema.Names())).because("%s lists them.", c.CommandPath())
	}
	return a.write(textWriter(string(text)))
}

func schemasPage(schemas []schemaData) show.Page {
	var out show.Page
	g := show.Grid{Columns: []show.Column{{Title: "schema"}, {Title: "of", Wraps: true}}}
	for _, s := range schemas {
		g.Rows = append(g.Rows, []show.Cell{{Text: s.Name, Tone: show.Strong}, {Text: s.Title}})
	}
	out.Grid(g)
	return out
}
