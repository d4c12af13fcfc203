package cmd

import (
	"glassbrief/catalog"
	"glassbrief/cmd/show"

	"github.com/spf13/cobra"
)

// newItems are the kinds of item that can be described by answering questions.
var newItems = []struct {
	kind      string
	questions []question
	words     map[string][]string // that a flag takes, for the shell
	example   string
}{
	{"lens", lensQuestions, map[string][]string{
		"focus": {catalog.FocusManual, catalog.FocusAuto, catalog.FocusWire}, "have": {catalog.Owned, catalog.Borrowed},
	}, `  glassbrief catalog new lens --name "Yard 21" --mount "Cine collar" \
    --focal 21mm --transmission T2.1 --mass "1.12 kg"
  glassbrief catalog new lens --name "Old 85" --mount "Deep bayonet" \
    --focal 85mm --aperture f/1.8-16 --into mine.catalog`},
	{"camera", cameraQuestions, map[string][]string{"sensor": sensorSizes, "autofocus": {"yes", "no"}},
		`  glassbrief catalog new camera --name "Body D" --mount "Slim bayonet" \
    --sensor "36mm x 24mm" --iso 800 --iso-range 12800 --mass 740g`},
	{"rig", rigQuestions, nil,
		`  glassbrief catalog new rig --name "Hand sled" --payload 0.5kg..3kg \
    --into mine.catalog`},
	{"mount", mountQuestions, nil,
		`  glassbrief catalog new mount --name "Deep bayonet" --flange 45mm`},
	{"filter", filterQuestions, map[string][]string{
		"kind": {catalog.FilterND, catalog.FilterDiffusion, catalog.FilterPolar, catalog.FilterStepUp},
	}, `  glassbrief catalog new filter --name "Grey 3" --kind nd --thread 77mm \
    --strength "3 stops"`},
}

// catalogNew is the group of verbs that write a new item.
func (a *app) catalogNew(files *[]string) *cobra.Command {
	c := group("new", "write a new item of the catalogue", "Asks for what matters, and writes tidy text.", "  glassbrief catalog new lens --name \"Yard 21\" --mount \"Cine collar\" \\\n    --focal 21mm")
	for i := range newItems {
		c.AddCommand(a.catalogNewItem(files, i))
	}
	return c
}

// catalogNewItem is the verb that writes an item of one kind.
func (a *app) catalogNewItem(files *[]string, row int) *cobra.Command {
	item, into := newItems[row], ""
	c := &cobra.Command{
		Use: item.kind, Short: "describe a " + item.kind, Args: noArguments,
		Long: `Asks in the terminal for what is not given by flags, checks each answer at once,
and prints the ` + item.kind + `, or adds it to the catalogue that --into names. An empty
answer means that it is not known. Without a terminal the flags are all.`,
		Example: item.example,
		RunE: func(c *cobra.Command, _ []string) error {
			context, err := a.importContext(*files, into)
			if err != nil {
				return err
			}
			f := a.newForm(item.kind, item.questions, context)
			if err := f.fromFlags(c.Flags()).Err(); err != nil {
				return err
			}
			if show.IsTerminal(a.stdin) {
				err = f.fromTerminal(a.asking())
			} else {
				err = f.complete().Err()
			}
			if err != nil {
				return err
			}
			drafts, found := addMounts([]catalog.Draft{f.draft()}, context.all, nil)
			return a.addDrafts(into, context, drafts, found)
		},
	}
	flags := c.Flags()
	flags.SortFlags = false
	flags.StringVar(&into, "into", "", "add to this catalogue `file`, in one step")
	for _, q := range item.questions {
		flags.String(q.flag(), "", q.usage)
	}
	for flag, words := range item.words {
		complete(c, flag, words)
	}
	return c
}
