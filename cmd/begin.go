package cmd

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"glassbrief/catalog"
	"glassbrief/catalog/sheet"
	"glassbrief/cmd/show"
	"glassbrief/cmd/wording"
	"glassbrief/engine/brief"
	"glassbrief/engine/exposure"
	"glassbrief/lang"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// houseName is the file of the equipment in a folder that is begun.
const houseName = "house.catalog"

// houseSettings are the settings of a folder that is begun.
const houseSettings = `# Settings for the scenarios in this folder.
units: %s
# catalogues:     # more equipment, for every scenario in this folder
#   - hire.catalog
# rules:          # criteria of your own
#   - house.rules
`

// A beginning is a working folder on its way: what is asked for, and what is known so far.
type beginning struct {
	*app
	folder  string
	name    string
	script  string
	lenses  string
	shots   string
	adapted []string // mounts of lenses for which there is an adapter
	table   importFlags

	scenes *lang.Source    // the script; nil without one
	plan   []catalog.Draft // the shots
	house  []catalog.Draft // the equipment, mounts and adapters not among it
	camera *form
	rig    *form
	body   catalog.Draft // the camera, once it is known
	found  lang.Diagnostics
}

func (a *app) begin() *cobra.Command {
	b := &beginning{app: a, table: importFlags{decimal: choice{words: decimalMarks}}}
	c := &cobra.Command{
		Use:   "begin FOLDER",
		Short: "a working folder from a list of lenses, a script, a shot list",
		Long: `Writes a scenario, a catalogue and settings into a folder, and prints the
command to run next. The scenario has a shot for each row of the shot list, or
for each scene of the script, or one example. What is not known is left out,
with a comment that says how to find it out; what a shot cannot be without
stands there as an example, marked EXAMPLE, to be rewritten. Lists are read as
"catalog import" reads them: CSV or XLSX, with titles in six languages.

It asks in a terminal for what is not given by flags. Without one, the list of
lenses, the camera with its mount and sensor, and the rig with its payload must
be given. No file is ever overwritten.`,
		Example: `  glassbrief begin tide-mill --lenses hire-list.csv \
    --script night-ferry.fountain --camera "Body D" --mount "Deep bayonet" \
    --sensor "36mm x 24mm" --rig "Hand sled" --payload 0.5kg..3kg`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usage(lang.MissingValue, "%q lacks the folder", c.CommandPath()).because("Name a new one, as in: %s tide-mill.", c.CommandPath())
			}
			return atMostOne("folder")(c, args)
		},
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return nil, cobra.ShellCompDirectiveFilterDirs
		},
		RunE: func(c *cobra.Command, args []string) error {
			b.folder = filepath.Clean(args[0])
			return b.run(c.Flags())
		},
	}
	flags := c.Flags()
	flags.SortFlags = false
	flags.StringVar(&b.lenses, "lenses", "", "list of lenses, a spreadsheet `file` (CSV or XLSX); cameras and filters in it are taken too")
	flags.StringVar(&b.script, "script", "", "script in Fountain, a `file`, for a shot a scene")
	flags.StringVar(&b.shots, "shots", "", "list of shots, a spreadsheet `file` (CSV or XLSX)")
	flags.StringVar(&b.name, "name", "", "`name` of the production (default: that of the folder)")
	for _, q := range slices.Concat(beginCamera, beginRig) {
		flags.String(q.flag(), "", ofWhat(q))
	}
	flags.StringArrayVar(&b.adapted, "adapter", nil, "`mount` of lenses for which there is an adapter to the camera; may be given several times")
	b.table.addTableFlags(flags)
	for flag, endings := range map[string][]string{"lenses": {"csv", "xlsx"}, "shots": {"csv", "xlsx"}, "script": {"fountain"}} {
		if err := c.MarkFlagFilename(flag, endings...); err != nil {
			panic(err) // the flag does not exist: a mistake in this package
		}
	}
	complete(c, "sensor", sensorSizes)
	complete(c, "decimal", decimalMarks)
	return c
}

// The questions about camera, rig and lens that a beginning asks: what an answer needs, and the
// few figures that move it most.
var (
	beginCamera = picked(cameraQuestions, "name=camera", "mount", "size=sensor", "iso=base-iso", "iso_range=top-iso", "mass=camera-mass")
	beginRig    = picked(rigQuestions, "name=rig", "payload")
	beginLens   = picked(lensQuestions, "mount", "focal", "aperture", "close_focus", "mass")
)

// ofWhat gives the usage of a flag that stands beside those of other items.
func ofWhat(q question) string {
	switch q.flag() {
	case "camera", "rig":
		return "`name` of the " + q.flag()
	case "mount":
		return "`name` of the mount of the camera"
	case "payload":
		return strings.Replace(q.usage, "it carries", "the rig carries", 1)
	case "camera-mass":
		return strings.Replace(q.usage, "`mass`", "`mass` of the camera", 1)
	}
	return q.usage
}

func (b *beginning) run(flags *pflag.FlagSet) error {
	if b.form.value != "text" {
		return b.noForm()
	}
	if err := b.loadSettings(""); err != nil {
		return err
	}
	if err := b.free(); err != nil { // before anybody answers questions
		return err
	}
	b.readLists()
	b.camera = b.newForm("camera", beginCamera, b.known())
	b.rig = b.newForm("rig", beginRig, b.known())
	if b.takeCamera(flags.Lookup("camera").Value.String()) {
		b.refuseCameraFlags(flags)
	} else {
		b.found = append(b.found, b.camera.fromFlags(flags)...)
	}
	b.found = append(b.found, b.rig.fromFlags(flags)...)
	if b.found.HasErrors() {
		return b.found
	}
	if show.IsTerminal(b.stdin) {
		if err := b.ask(); err != nil {
			return err
		}
	} else if err := b.complete(); err != nil {
		return err
	}
	if b.body.Name == "" {
		b.body = b.camera.draft()
		b.house = append([]catalog.Draft{described(b.body, cameraQuestions)}, b.house...)
	}
	b.house = append([]catalog.Draft{described(b.rig.draft(), rigQuestions)}, b.house...)
	if err := b.settleAdapters(); err != nil {
		return err
	}
	if b.scenes != nil && b.shots != "" {
		b.found = append(b.found, brief.PinHeadings(b.plan, b.scenes)...)
	}
	return b.write()
}

// refuseCameraFlags reports flags about a camera that the list describes.
func (b *beginning) refuseCameraFlags(flags *pflag.FlagSet) {
	for _, q := range beginCamera[1:] {
		if flags.Changed(q.flag()) {
			b.found.Add(usage(lang.Contradiction, "%q is about the camera, and the list describes %q", "--"+q.flag(), b.body.Name).
				because("Leave it out, or give the camera a name that the list does not have.").Diagnostic)
		}
	}
}

// settleAdapters spells the mounts of adapters as the lenses have them.
func (b *beginning) settleAdapters() error {
	mounts := b.lensMounts()
	for i, given := range b.adapted {
		at := slices.IndexFunc(mounts, func(mount string) bool { return strings.EqualFold(mount, given) })
		if at < 0 {
			return usage(lang.UnknownName, "\"--adapter\": no lens of the list has the mount %q", given).
				or(lang.Nearest(given, mounts)).because("They have %s.", lang.Quoted(mounts))
		}
		if mounts[at] == b.cameraMount() {
			return usage(lang.Contradiction, "\"--adapter\": the camera itself has the mount %q", mounts[at]).because("Leave it out.")
		}
		b.adapted[i] = mounts[at]
	}
	slices.Sort(b.adapted)
	b.adapted = slices.Compact(b.adapted)
	return nil
}

// readLists reads the script and the lists that the flags name.
func (b *beginning) readLists() {
	for _, list := range []struct {
		path string
		read func(path string) error
	}{{b.script, b.readScript}, {b.shots, b.readShots}, {b.lenses, b.readLenses}} {
		if list.path != "" {
			if err := list.read(list.path); err != nil {
				b.found = append(b.found, diagnosticsOf(err)...)
			}
		}
	}
}

func (b *beginning) readScript(path string) error {
	src, err := readSource(path)
	if err != nil {
		return err
	}
	shots := brief.ShotsOfScript(src)
	if len(shots) == 0 {
		return lang.Diagnostics{brief.NoScenes(lang.Span{Source: src}, lang.Error)}
	}
	b.script, b.scenes = path, src
	if b.plan == nil {
		b.plan = shots
	}
	return nil
}

func (b *beginning) readShots(path string) error {
	shots, err := b.readTable(path, sheet.Options{Kind: sheet.ShotKind, Levels: exposure.LevelNames()})
	if err == nil {
		b.plan, b.shots = shots, path
	}
	return err
}

func (b *beginning) readLenses(path string) error {
	house, err := b.readTable(path, sheet.Options{})
	if err == nil && !slices.ContainsFunc(house, isLens) {
		err = usage(lang.MissingValue, "%q holds no lens", path).because("Name the list of your lenses.")
	}
	if err == nil {
		b.house, b.lenses = house, path
	}
	return err
}

func isLens(d catalog.Draft) bool { return d.Kind == "lens" }

// readTable reads the rows of a list. Warnings are kept for the end.
func (b *beginning) readTable(path string, o sheet.Options) ([]catalog.Draft, error) {
	sheets, err := openTable(path)
	if err != nil {
		return nil, err
	}
	given, err := b.table.tableOptions(&catalog.Catalogue{})
	if err != nil {
		return nil, err
	}
	o.Decimal, o.Currency, o.Columns = given.Decimal, given.Currency, given.Columns
	if o.Kind == "" {
		o.Defaults = given.Defaults
	}
	readings, found := understand(sheets, "", o)
	var drafts []catalog.Draft
	for _, r := range readings {
		drafts = append(drafts, r.Drafts...)
	}
	if found.HasErrors() {
		return nil, found
	}
	if len(drafts) == 0 {
		return nil, usage(lang.MissingValue, "%q holds nothing to take in", path).because("It has titles, and no rows that name anything.")
	}
	b.found = append(b.found, found...)
	return drafts, nil
}

// known gives the equipment so far, for answers to be checked with.
func (b *beginning) known() *importContext {
	mounts, _ := addMounts(b.house, &catalog.Catalogue{}, nil)
	text, _ := catalog.Compose(mounts)
	x := &importContext{}
	if src, ds := lang.NewSource(houseName, []byte(text)); !ds.HasErrors() {
		x.beside = []*lang.Source{src}
	}
	x.all, _ = catalog.Load(x.beside...)
	return x
}

// cameras names those of the list.
func (b *beginning) cameras() []string {
	var names []string
	for _, d := range b.house {
		if d.Kind == "camera" {
			names = append(names, d.Name)
		}
	}
	return names
}

// takeCamera takes the camera of a name from the list, or the only one for "".
func (b *beginning) takeCamera(name string) bool {
	names := b.cameras()
	for _, d := range b.house {
		if d.Kind == "camera" && (d.Name == name || name == "" && len(names) == 1) {
			b.body = d
			return true
		}
	}
	return false
}

// complete reports in one finding all that is missing, with the flags that give it.
func (b *beginning) complete() error {
	var names, meanings []string
	add := func(flag, usage string) {
		names = append(names, "--"+flag)
		meanings = append(meanings, fmt.Sprintf("--%s %s", flag, strings.ReplaceAll(usage, "`", "")))
	}
	if !slices.ContainsFunc(b.house, isLens) {
		add("lenses", "the list of your lenses, a spreadsheet file")
	}
	switch names := b.cameras(); {
	case b.body.Name != "":
	case names != nil && !b.camera.given["name"]:
		add("camera", "the camera of the list: "+lang.Quoted(names))
	default:
		for _, q := range b.camera.missing() {
			add(q.flag(), ofWhat(q))
		}
	}
	for _, q := range b.rig.missing() {
		add(q.flag(), ofWhat(q))
	}
	if names == nil {
		return nil
	}
	return usage(lang.MissingValue, "no answer is possible without %s", strings.ReplaceAll(lang.Quoted(names), " or ", " and ")).
		because("There is no terminal to ask in, so give them: %s.", strings.Join(meanings, "; "))
}

// ask asks for what the flags do not give.
func (b *beginning) ask() error {
	t := b.asking()
	for _, file := range []struct {
		question string
		given    bool
		read     func(string) error
	}{
		{"List of your lenses, a spreadsheet (CSV or XLSX); an empty answer to name them one by one", b.house != nil, b.readLenses},
		{"Shot list, a spreadsheet (CSV or XLSX), if there is one", b.shots != "", b.readShots},
		{"Script in Fountain, if there is one", b.scenes != nil, b.readScript},
	} {
		if err := b.askFile(t, file.question, file.given, file.read); err != nil {
			return err
		}
	}
	if b.house == nil {
		if err := b.askLenses(t); err != nil {
			return err
		}
	}
	if err := b.askCamera(t); err != nil {
		return err
	}
	forms := []*form{b.rig}
	if b.body.Name == "" {
		forms = []*form{b.camera, b.rig}
	}
	for _, f := range forms {
		f.context = b.known()
		f.options.Mounts = f.context.all.Mounts.Names()
		if err := f.fromTerminal(t); err != nil {
			return err
		}
	}
	return b.askAdapters(t)
}

func (b *beginning) askFile(t *asking, question string, given bool, read func(string) error) error {
	for !given {
		path, err := t.line(question)
		if path = strings.TrimSpace(path); err != nil || path == "" {
			return err
		}
		if err := read(path); err != nil {
			b.report(diagnosticsOf(err))
			continue
		}
		given = true
	}
	return nil
}

// askCamera asks which of the cameras of the list it is, if any.
func (b *beginning) askCamera(t *asking) error {
	names := b.cameras()
	if len(names) == 0 || b.body.Name != "" || b.camera.given["name"] || b.takeCamera("") {
		return nil
	}
	for b.body.Name == "" {
		name, err := t.line("Which camera (" + strings.Join(names, ", ") + "); an empty answer for another")
		if name = strings.TrimSpace(name); err != nil || name == "" {
			return err
		}
		if !b.takeCamera(name) {
			b.report(lang.Diagnostics{usage(lang.UnknownName, "the list has no camera %q", name).or(lang.Nearest(name, names)).because("It has %s.", lang.Quoted(names)).Diagnostic})
		}
	}
	return nil
}

// askLenses asks for one lens after the other, until one has no name.
func (b *beginning) askLenses(t *asking) error {
	name := picked(lensQuestions, "name")[0]
	for {
		f := b.newForm("lens", beginLens, b.known())
		for !f.given["name"] {
			text, err := t.line("Name of a lens, as on the barrel; an empty answer when that was all")
			if err != nil {
				return err
			}
			if text = strings.TrimSpace(text); text == "" && b.house != nil {
				return nil
			}
			b.reportWarnings(f.answer(name, "answer", text))
		}
		if err := f.fromTerminal(t); err != nil {
			return err
		}
		b.house = append(b.house, f.draft())
	}
}

// askAdapters asks for an adapter from each mount that the camera does not have.
func (b *beginning) askAdapters(t *asking) error {
	camera := b.cameraMount()
	for _, mount := range b.lensMounts() {
		for mount != camera && !slices.Contains(b.adapted, mount) {
			text, err := t.line(fmt.Sprintf("Is there an adapter from %q to %q: yes or no", mount, camera))
			if err != nil {
				return err
			}
			if answer := strings.ToLower(strings.TrimSpace(text)); answer == "yes" || answer == "y" {
				b.adapted = append(b.adapted, mount)
			} else if answer == "no" || answer == "n" || answer == "" {
				break
			}
		}
	}
	return nil
}

// valueOf gives a text of a draft.
func valueOf(d catalog.Draft, keyword string) string {
	for _, line := range d.Lines {
		if line.Keyword == keyword {
			text, _ := lang.Unquote(line.Value)
			return text
		}
	}
	return ""
}

func (b *beginning) cameraMount() string {
	if b.body.Name != "" {
		return valueOf(b.body, "mount")
	}
	return valueOf(b.camera.draft(), "mount")
}

func (b *beginning) lensMounts() []string {
	var mounts []string
	for _, d := range b.house {
		if mount := valueOf(d, "mount"); isLens(d) && !slices.Contains(mounts, mount) {
			mounts = append(mounts, mount)
		}
	}
	return mounts
}

// described gives a draft with a comment for each question that nobody has answered.
func described(d catalog.Draft, questions []question) catalog.Draft {
	for _, q := range questions {
		known := slices.ContainsFunc(d.Lines, func(line catalog.Line) bool { return line.Keyword == q.keyword })
		if !known && !q.needed && q.keyword != "about" {
			d.Lines = append(d.Lines, catalog.Line{Comment: q.unknown()})
		}
	}
	return d
}

// equipment gives all equipment, with the mounts and adapters that it needs.
func (b *beginning) equipment() []catalog.Draft {
	all, _ := addMounts(b.house, &catalog.Catalogue{}, nil)
	mounts := len(all) - len(b.house)
	for i := range all[:mounts] {
		all[i] = described(all[i], mountQuestions)
	}
	var adapters []catalog.Draft
	camera := b.cameraMount()
	for _, mount := range b.adapted {
		adapters = append(adapters, catalog.Draft{Kind: "adapter", Name: mount + " to " + camera, Lines: []catalog.Line{
			{Keyword: "from", Value: lang.Quote(mount) + " to " + lang.Quote(camera)},
			{Comment: "mass: put it on a kitchen scale, as 110g"},
			{Comment: "factor: if it has glass, what it multiplies the focal length by, as 0.71"},
			{Comment: "contacts: a line with this word alone, if the camera drives focus and iris through it"},
		}})
	}
	return slices.Concat(all[:mounts], adapters, all[mounts:])
}

// houseText writes the catalogue, with what is not known of the lenses and how to find it out
// above them.
func (b *beginning) houseText(drafts []catalog.Draft) (string, []lang.Span) {
	lines := []lang.Line{{Comment: "The equipment. What is not known is left out, and a comment says how to find it out."}}
	if b.lenses != "" {
		path := relative(b.folder, b.lenses)
		lines = append(lines, lang.Line{Comment: "The lenses are from " + path + "; once it is amended, take it in anew with:"},
			lang.Line{Comment: "  glassbrief catalog import " + shellWord(path) + " --into " + houseName + " --update"})
	}
	lenses, lacking := 0, map[string]int{}
	for _, d := range drafts {
		if !isLens(d) {
			continue
		}
		lenses++
		for _, keyword := range wording.Measured() {
			if !slices.ContainsFunc(d.Lines, func(line catalog.Line) bool { return line.Keyword == keyword }) {
				lacking[keyword]++
			}
		}
	}
	lines = append(lines, lang.Line{}, lang.Line{Comment: "Not known yet of some lenses, and how to find it out (\"glassbrief catalog doctor\" says what matters first):"})
	for _, keyword := range wording.Measured() {
		if n := lacking[keyword]; n > 0 {
			lines = append(lines, lang.Line{Comment: fmt.Sprintf("  %s, of %d of %d: %s", keyword, n, lenses, wording.Measure(keyword))})
		}
	}
	lines = append(lines, lang.Line{})
	for _, d := range drafts {
		lines = append(lines, d.Statement())
	}
	return lang.Compose(lines)
}
