package cmd

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"glassbrief/catalog"
	"glassbrief/cmd/show"
	"glassbrief/engine/brief"
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
	complete(c, "sensor", sensorSizes)
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
