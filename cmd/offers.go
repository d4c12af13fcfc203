package cmd

import (
	"cmp"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"glassbrief/catalog"
	"glassbrief/cmd/schema"
	"glassbrief/engine/brief"
	"glassbrief/lang"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// An offer is what a shell is offered for a value: words, each with its meaning behind a tab, or the
// endings of files. It sees the arguments that stand on the command line already.
type offer func(a *app, c *cobra.Command, args []string) ([]string, cobra.ShellCompDirective)

// offers lists what is offered for the value of a flag and for the arguments of a verb. A row for a flag
// of one verb goes before the row for that flag of all verbs. A flag that takes one of a few words needs no
// row: those are offered. All else is free text: nothing is offered for it, and no files either.
var offers = map[string]offer{
	"--output":   anyFile,
	"--settings": files("yaml", "yml"),
	"--catalog":  files("catalog"),
	"--into":     files("catalog"),
	"--choices":  files("choices"),
	"--lenses":   files("csv", "xlsx"),
	"--shots":    files("csv", "xlsx"),
	"--script":   files("fountain"),
	"--path":     files(languageExtensions...),

	"--shot":    named(shotNames),
	"--lens":    named(lensNames),
	"--against": named(lensNames),
	"--chose":   named(lensNames),
	"--camera":  named(cameraNames),
	"--mode":    named(modeNames),
	"--mount":   inCatalogue(mountNames),

	"catalog import --lens": inCatalogue(lensNames),
	"begin --camera":        free, // and so is its mount: both are described anew
	"begin --mount":         free,

	"audit":          first(1, files("scenario")),
	"begin":          first(1, folders),
	"cards":          first(1, files("scenario")),
	"catalog doctor": first(1, files("scenario")),
	"catalog import": first(1, files("csv", "xlsx")),
	"catalog show":   first(1, inCatalogue(func(s *brief.Scenario) []string { return itemNames(s.Catalogue) })),
	"check":          files("scenario", "choices"),
	"compare":        first(3, files("scenario", "choices")),
	"days":           first(1, files("scenario")),
	"explain":        first(1, words(codeNames)),
	"facts":          first(1, words(factNames)),
	"framing":        first(1, files("scenario")),
	"help":           (*app).offerVerbs,
	"merge":          first(3, files(languageExtensions...)),
	"recommend":      first(1, files("scenario")),
	"rules":          files("rules", "scenario"),
	"rules learn":    files("choices"),
	"rules show":     files("rules", "scenario"),
	"rules test":     files("rules", "scenario"),
	"schema":         first(1, words(schema.Names)),
	"settings":       first(1, files("scenario")),
	"tidy":           files(languageExtensions...),
	"watch":          first(1, files("scenario")),
	"whatif":         first(1, files("scenario")),
	"why":            first(1, files("scenario")),
}

// offer makes a tree of verbs ready for the questions of a shell.
func (a *app) offer(c *cobra.Command) {
	path := strings.TrimPrefix(strings.TrimPrefix(c.CommandPath(), a.root.Name()), " ")
	of := func(key string) cobra.CompletionFunc {
		o, ok := offers[key]
		if !ok {
			return nil
		}
		return func(c *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			return o(a, c, args)
		}
	}
	arguments := of(path)
	c.ValidArgsFunction = func(c *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		mayBeVerb := func(verb *cobra.Command) bool { return strings.HasPrefix(verb.Name(), typed) }
		if arguments == nil || len(args) == 0 && slices.ContainsFunc(c.Commands(), mayBeVerb) { // cobra offers verbs
			return free(a, c, args)
		}
		return arguments(c, args, typed)
	}
	c.LocalFlags().VisitAll(func(f *pflag.Flag) {
		if _, has := c.GetFlagCompletionFunc(f.Name); has || f.NoOptDefVal != "" {
			return
		}
		answer := of(path + " --" + f.Name)
		if one, ok := f.Value.(*choice); ok && answer == nil {
			answer = cobra.FixedCompletions(one.words, cobra.ShellCompDirectiveNoFileComp)
		}
		if answer == nil {
			answer = of("--" + f.Name)
		}
		if answer == nil {
			answer = cobra.NoFileCompletions
		}
		if err := c.RegisterFlagCompletionFunc(f.Name, answer); err != nil {
			panic(err) // the flag does not exist: a mistake in this package
		}
	})
	for _, verb := range c.Commands() {
		a.offer(verb)
	}
}

func free(*app, *cobra.Command, []string) ([]string, cobra.ShellCompDirective) {
	return nil, cobra.ShellCompDirectiveNoFileComp
}

func anyFile(*app, *cobra.Command, []string) ([]string, cobra.ShellCompDirective) {
	return nil, cobra.ShellCompDirectiveDefault
}

func folders(*app, *cobra.Command, []string) ([]string, cobra.ShellCompDirective) {
	return nil, cobra.ShellCompDirectiveFilterDirs
}

// files offers files by their endings.
func files(endings ...string) offer {
	return func(*app, *cobra.Command, []string) ([]string, cobra.ShellCompDirective) {
		return endings, cobra.ShellCompDirectiveFilterFileExt
	}
}

// words offers words that are always the same.
func words(list func() []string) offer {
	return func(*app, *cobra.Command, []string) ([]string, cobra.ShellCompDirective) {
		return list(), cobra.ShellCompDirectiveNoFileComp
	}
}

// first offers something for the first n arguments, and nothing for more.
func first(n int, of offer) offer {
	return func(a *app, c *cobra.Command, args []string) ([]string, cobra.ShellCompDirective) {
		if len(args) >= n {
			return free(a, c, args)
		}
		return of(a, c, args)
	}
}

// offerVerbs offers what "help" may be asked for: verbs, those of a verb that holds some, and topics.
func (a *app) offerVerbs(_ *cobra.Command, args []string) ([]string, cobra.ShellCompDirective) {
	var names []string
	if len(args) == 0 {
		for _, t := range topics {
			if !slices.ContainsFunc(verbs, func(v verb) bool { return v.name == t.name }) {
				names = append(names, cobra.CompletionWithDesc(t.name, t.short))
			}
		}
	}
	if verb, rest, err := a.root.Find(args); err == nil && len(rest) == 0 {
		for _, c := range verb.Commands() {
			if c.IsAvailableCommand() {
				names = append(names, cobra.CompletionWithDesc(c.Name(), c.Short))
			}
		}
	}
	return names, cobra.ShellCompDirectiveNoFileComp
}

// named offers names of the scenario that is the first argument, or without one those of the catalogue.
func named(names func(*brief.Scenario) []string) offer {
	return func(a *app, c *cobra.Command, args []string) ([]string, cobra.ShellCompDirective) {
		if len(args) == 0 {
			return inCatalogue(names)(a, c, args)
		}
		return offered(names(a.glance(args[0]))), cobra.ShellCompDirectiveNoFileComp
	}
}

// inCatalogue offers names of the catalogue that flags and settings name.
func inCatalogue(names func(*brief.Scenario) []string) offer {
	return func(a *app, c *cobra.Command, _ []string) ([]string, cobra.ShellCompDirective) {
		a.settle("")
		paths := a.settings.Catalogues
		if of, err := c.Flags().GetStringArray("catalog"); err == nil && len(of) > 0 {
			paths = of
		}
		if into, err := c.Flags().GetString("into"); err == nil && into != "" {
			paths = append(slices.Clone(paths), into)
		}
		var sources []*lang.Source
		for _, path := range paths {
			if src, err := a.readSource(homely(path)); err == nil {
				sources = append(sources, src)
			}
		}
		if len(paths) == 0 {
			sources = append(sources, catalog.Demo())
		}
		all, _ := catalog.Load(sources...)
		return offered(names(&brief.Scenario{Catalogue: all, Cameras: all.Cameras.All()})), cobra.ShellCompDirectiveNoFileComp
	}
}

// settle reads the settings for a scenario, and takes the usual ones where they cannot be read.
func (a *app) settle(scenario string) {
	if a.loadSettings(scenario) != nil {
		a.settings = &Settings{}
	}
}

// glance reads a scenario as far as it can be read. It does not wait for what somebody types or for a pipe.
func (a *app) glance(path string) *brief.Scenario {
	none := &brief.Scenario{Catalogue: &catalog.Catalogue{}}
	if path == "-" {
		return none
	}
	path = homely(path)
	a.settle(path)
	src, err := a.readSource(path)
	if err != nil {
		return none
	}
	looked := none
	see := func(files brief.Files) error {
		looked = brief.Look(src, files)
		return nil
	}
	if a.readable(path, see) != nil { // the files of the settings cannot be read
		a.settings = &Settings{}
		_ = a.readable(path, see) // as above: then there is nothing to offer
	}
	return looked
}

// homely puts the home folder in for the ~ with which a path begins. A shell does so before it runs a
// command, but not before it asks what to offer.
func homely(path string) string {
	if rest, ok := strings.CutPrefix(path, "~/"); ok {
		if home, err := os.UserHomeDir(); err == nil {
			return filepath.Join(home, rest)
		}
	}
	return path
}

// offered leaves out names that no shell can show on one line. What a name means may stand behind a tab.
func offered(names []string) []string {
	return slices.DeleteFunc(names, func(line string) bool {
		name, _, _ := strings.Cut(line, "\t")
		return name == "" || name != strings.TrimSpace(name) || name != lang.Printable(name)
	})
}

func shotNames(s *brief.Scenario) (names []string) {
	for _, shot := range s.Shots {
		names = append(names, cobra.CompletionWithDesc(shot.ID, lang.Printable(shot.Title)))
	}
	return names
}

func lensNames(s *brief.Scenario) []string  { return s.Catalogue.Lenses.Names() }
func mountNames(s *brief.Scenario) []string { return s.Catalogue.Mounts.Names() }

// cameraNames gives the candidates of a scenario.
func cameraNames(s *brief.Scenario) (names []string) {
	for _, camera := range s.Cameras {
		names = append(names, camera.Name.Value)
	}
	return names
}

func modeNames(s *brief.Scenario) (names []string) {
	for _, camera := range s.Cameras {
		names = append(names, camera.ModeNames()...)
	}
	slices.SortFunc(names, cmp.Compare)
	return slices.Compact(names)
}
