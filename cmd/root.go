package cmd

import (
	"io"
	"runtime/debug"
	"slices"
	"sync"
	_ "time/tzdata" // time zones by name, also where the system has none

	"glassbrief/cmd/show"
	"glassbrief/engine/parallel"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// app is one run of the command: its streams and the flags that every verb takes.
type app struct {
	stdin          io.Reader
	stdout, stderr io.Writer

	form         choice // --as
	output       string // -o
	units        choice
	color        choice
	width        int
	settingsFile string
	verbose      bool

	root     *cobra.Command
	heard    *lang.Diagnostics // gathers what is reported, for a verb that says it itself; nil for none
	settings *Settings         // nil until first asked for
	layers   []settingsLayer   // the files that they come from, the weaker first
	budget   *lang.Budget      // of all that is read
	bar      *progress         // the one shown last; nil when there was none
	read     sync.Map          // the files that the run has read, by name
	args     []string          // of the command line
}

// Main runs the command with the arguments behind its name and gives its exit code, as
// "glassbrief help" lists them.
func Main(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	parallel.Roomy()
	return newApp(stdin, stdout, stderr).run(args)
}

// run is Main; a panic ends as code 3 with a plain sentence.
func (a *app) run(args []string) (code int) {
	defer func() {
		if fault := recover(); fault != nil {
			code = a.reportFault(fault, debug.Stack())
		}
	}()
	a.args = args
	switch {
	case len(args) > 0 && args[0] == bashRequest:
		return a.answerBash(args[1:])
	case len(args) > 1 && (args[0] == cobra.ShellCompRequestCmd || args[0] == cobra.ShellCompNoDescRequestCmd):
		a.addVerbs(args[1 : len(args)-1]) // without the word that is being typed
		a.root.InitDefaultHelpCmd()       // which cobra does later
		a.offer(a.root)
	default:
		a.addVerbs(args)
	}
	a.root.SetArgs(append([]string{}, args...)) // never nil, which cobra takes for os.Args
	return a.exitCode(a.root.Execute())
}

// Root gives the tree of verbs for generators of documentation.
func Root() *cobra.Command {
	a := newApp(nil, io.Discard, io.Discard)
	a.addVerbs(nil)
	return a.root
}

// A verb is made when it is needed.
type verb struct {
	name string
	make func(*app) *cobra.Command
}

// verbs lists what makes each verb.
var verbs = []verb{
	{"begin", (*app).begin},
	{"recommend", (*app).recommend},
	{"days", (*app).days},
	{"why", (*app).why},
	{"audit", (*app).audit},
	{"cards", (*app).cards},
	{"framing", (*app).framing},
	{"compare", (*app).compare},
	{"watch", (*app).watch},
	{"whatif", (*app).whatif},
	{"check", (*app).check},
	{"facts", (*app).facts},
	{"explain", (*app).explain},
	{"schema", (*app).schema},
	{"settings", (*app).showSettings},
	{"rules", (*app).rules},
	{"catalog", (*app).catalog},
	{"tidy", (*app).tidy},
	{"merge", (*app).merge},
	{"git-setup", (*app).gitSetup},
	{"serve-editor", (*app).serveEditor},
	{"reckon", (*app).reckon},
	{"completion", (*app).completion},
}

// addVerbs makes the verb that the arguments begin with, or all if they begin with none: a
// short run would spend more on the others than on its own work. For --version none is needed.
func (a *app) addVerbs(args []string) {
	first := ""
	if len(args) > 0 {
		first = args[0]
	}
	if first == "--version" {
		return
	}
	named := slices.ContainsFunc(verbs, func(v verb) bool { return v.name == first })
	for _, v := range verbs {
		if !named || v.name == first {
			a.root.AddCommand(v.make(a))
		}
	}
}

func newApp(stdin io.Reader, stdout, stderr io.Writer) *app {
	show.SettleWidths()
	a := &app{
		stdin: stdin, stdout: stdout, stderr: stderr,
		form:   choice{value: "text", words: forms},
		units:  choice{value: "metric", words: unitSystems},
		color:  choice{value: "auto", words: colorModes},
		budget: lang.NewBudget(lang.DefaultBudget),
	}
	root := &cobra.Command{
		Use:   "glassbrief",
		Short: "which lenses to bring for a scenario, and why",
		Long: `Glassbrief reads a scenario, which is a production's choices and its shots, and
says which lenses go in the bag, how each shot is set up, and why.`,
		Example: `  glassbrief recommend night-ferry.scenario
  glassbrief reckon focus --focal 35mm --sensor "36mm x 24mm" --range 1.5m..3m`,
		Version:           versionAndDay(),
		SilenceErrors:     true,
		SilenceUsage:      true,
		Args:              knownVerb,
		RunE:              showHelp,
		PersistentPreRunE: func(c *cobra.Command, _ []string) error { return a.settleForm(c) },
		CompletionOptions: cobra.CompletionOptions{DisableDefaultCmd: true},
	}
	a.root = root
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	root.SetVersionTemplate("glassbrief {{.Version}}\n")
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		a.takeForm()
		return flagError(c, err)
	})
	dressHelp(root)

	flags := root.PersistentFlags()
	flags.Var(&a.form, "as", "the `form` of the result: text, json, markdown, csv or html; of framing fdl or svg, too; of days ics")
	flags.StringVarP(&a.output, "output", "o", "", "write the result to `file` in one step, in the form that its name ends in (.json, .csv, .md, .html, .ics); - is standard output")
	flags.Var(&a.units, "units", "the `system` for distances, masses and light: metric or imperial")
	flags.Var(&a.color, "color", "`when` to use colour: auto, always or never")
	flags.IntVar(&a.width, "width", 0, "width of the text in `cells`; 0 is that of the terminal")
	flags.StringVar(&a.settingsFile, "settings", "", "read settings from `file`, not from glassbrief.yaml beside the scenario or above it in its repository")
	budget := size(lang.SizeText(lang.DefaultBudget))
	flags.Var(&budget, "budget", "the most that one run reads, as a `size` of "+lang.BudgetRange()+"; other limits are shares of it")
	flags.BoolVarP(&a.verbose, "verbose", "v", false, "say on standard error which files are read and written")
	flags.BoolP("help", "h", false, "show this help")
	root.Flags().Bool("version", false, "print the version")

	root.SetHelpCommand(a.help())
	return a
}

// group makes a verb that only holds other verbs.
func group(use, short, long, example string) *cobra.Command {
	return &cobra.Command{Use: use, Short: short, Long: long, Example: example, Args: knownVerb, RunE: showHelp}
}

func showHelp(c *cobra.Command, _ []string) error { return c.Help() }
