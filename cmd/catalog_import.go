package cmd

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"glassbrief/catalog"
	"glassbrief/catalog/sheet"
	"glassbrief/lang"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// importFlags are those of the verb "catalog import".
type importFlags struct {
	into   string
	update bool
	dryRun bool
	// of a table
	kind     choice
	sheet    string
	decimal  choice
	currency string
	columns  []string
	set      []string
	// of a lens-correction database
	find    string
	lens    string
	mount   string
	sensor  string
	deliver string
}

// catalogImport is the verb that takes equipment in from other people's files.
func (a *app) catalogImport(files *[]string) *cobra.Command {
	f := importFlags{kind: choice{words: sheet.KindNames()}, decimal: choice{words: decimalMarks}}
	c := &cobra.Command{
		Use: "import FILE", Short: "take equipment in from spreadsheets and measurements",
		Long: `Reads lenses, cameras or filters from a spreadsheet (CSV or XLSX) and prints
them as a catalogue, or adds them to the one that --into names. Units may stand
in the titles, in a row below them, or in the cells; what cannot be read without
a guess is said at its row and column, and then nothing is written. Titles may
be in English, German, French, Spanish, Italian or Dutch; "ca. 480 g" stays
rough, as "mass about 480g". --dry-run shows what each column is taken for.

--update takes in a list that was amended: in the file that --into names it
changes what the list gives otherwise, and nothing else, and says what that was.

A folder is read as the open lens-correction database, as its package installs
it (on Debian /usr/share/lensfun/version_1): --find gives words of a lens's
name, and --lens the lens of your catalogue that the figures are for. They carry
their source and licence with them.`,
		Example: `  glassbrief catalog import hire-list.csv --dry-run
  glassbrief catalog import hire-list.csv --into mine.catalog
  glassbrief catalog import hire-list.csv --into mine.catalog --update
  glassbrief catalog import hire-list.csv --column "Shelf=about"
  glassbrief catalog import measured --find "field 20" --dry-run
  glassbrief catalog import measured --find "field 20" --lens "Zoom 16-35"`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usage(lang.MissingValue, "%q lacks the file", c.CommandPath()).because("Name a spreadsheet, or the folder of a lens-correction database.")
			}
			return atMostOne("file")(c, args)
		},
		RunE: func(c *cobra.Command, args []string) error {
			if f.update && f.into == "" {
				return usage(lang.MissingValue, "\"--update\" needs \"--into\"").because("It names the catalogue file that is to be changed.")
			}
			context, err := a.importContext(*files, f.into)
			if err != nil {
				return err
			}
			if info, err := os.Stat(args[0]); err == nil && info.IsDir() {
				return a.importCorrection(args[0], &f, context, &reading{flags: c.Flags()})
			}
			return a.importTable(args[0], &f, context)
		},
	}
	flags := c.Flags()
	flags.SortFlags = false
	flags.StringVar(&f.into, "into", "", "add to this catalogue `file`, in one step")
	flags.BoolVar(&f.update, "update", false, "change what the catalogue has already to what the spreadsheet says, and say what changed")
	flags.BoolVarP(&f.dryRun, "dry-run", "n", false, "show what is understood, and write nothing")
	flags.Var(&f.kind, "kind", "what the rows are, as a `word`: "+strings.Join(f.kind.words, ", ")+" (default: what fits the titles)")
	flags.StringVar(&f.sheet, "sheet", "", "`name` of the sheet of a workbook (default: all that can be read)")
	f.addTableFlags(flags)
	flags.StringVar(&f.find, "find", "", "`words` of the name of a lens in the database")
	flags.StringVar(&f.lens, "lens", "", "`name` of the lens of the catalogue that the figures are for (default: a new lens)")
	flags.StringVar(&f.mount, "mount", "", "`name` of the mount of a new lens (default: the one that the database gives)")
	flags.StringVar(&f.sensor, "sensor", "", "`size` of the sensor to show distortion for, as \"36mm x 24mm\"")
	flags.StringVar(&f.deliver, "deliver", "", "delivered aspect `ratio` to show distortion for, as 2.39:1")
	complete(c, "sensor", sensorSizes)
	return c
}

// decimalMarks are the words for the decimal mark of a list.
var decimalMarks = []string{"point", "comma"}

// addTableFlags gives a verb the flags on how a list is read.
func (f *importFlags) addTableFlags(flags *pflag.FlagSet) {
	flags.Var(&f.decimal, "decimal", "decimal `mark`: point or comma (default: what the figures show)")
	flags.StringVar(&f.currency, "currency", "", "`code` of the currency of prices without one, as EUR")
	flags.StringArrayVar(&f.columns, "column", nil, "what a title means, as `\"Gewicht=mass g\"`; may be given several times")
	flags.StringArrayVar(&f.set, "set", nil, "what rows without it get, as `mount=\"Deep bayonet\"`; may be given several times")
}

// An importContext is what the catalogue holds already: the file that is added to, and
// those beside it.
type importContext struct {
	into   *lang.Source // nil when there is none yet
	beside []*lang.Source
	all    *catalog.Catalogue
}

func (a *app) importContext(files []string, into string) (*importContext, error) {
	if err := a.loadSettings(""); err != nil {
		return nil, err
	}
	if len(files) == 0 {
		files = a.settings.Catalogues
	}
	files = slices.DeleteFunc(slices.Clone(files), func(file string) bool { return into != "" && sameFile(file, into) })
	beside, err := a.readSources(files, lang.OfFile)
	if err != nil {
		return nil, err
	}
	x := &importContext{beside: beside}
	if into != "" {
		if x.into, err = a.readIfThere(into); err != nil {
			return nil, err
		}
	}
	// What is wrong with the files themselves is said when something is added to them.
	x.all, _ = catalog.Load(x.sources()...)
	return x, nil
}

func (x *importContext) sources() []*lang.Source {
	if x.into == nil {
		return x.beside
	}
	return append([]*lang.Source{x.into}, x.beside...)
}

func sameFile(a, b string) bool {
	one, err1 := os.Stat(a)
	other, err2 := os.Stat(b)
	return err1 == nil && err2 == nil && os.SameFile(one, other) || filepath.Clean(a) == filepath.Clean(b)
}

// readIfThere reads a source, and gives nil when there is no such file.
func (a *app) readIfThere(path string) (*lang.Source, error) {
	src, err := a.readSource(path)
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	return src, err
}

// importTable takes a spreadsheet in.
func (a *app) importTable(path string, f *importFlags, x *importContext) error {
	sheets, err := a.openTable(path)
	if err != nil {
		return err
	}
	options, err := f.tableOptions(x.all)
	if err != nil {
		return err
	}
	if f.update {
		options.Known = x.all.Has
	}
	readings, found := understand(sheets, f.sheet, options)
	var drafts []catalog.Draft
	for _, r := range readings {
		drafts = append(drafts, r.Drafts...)
	}
	if len(drafts) == 0 && !found.HasErrors() {
		found.Add(usage(lang.MissingValue, "%q holds nothing to take in", path).because("It has titles, and no rows that name anything.").Diagnostic)
	}
	drafts, found = addMounts(drafts, x.all, found)
	if f.dryRun {
		r, more := x.take(x.into, f, drafts)
		found = append(found, more...)
		if err := a.show(importView(readings, r.Changes, len(drafts) > 0 && !found.HasErrors())); err != nil {
			return err
		}
		if found.HasErrors() {
			return found
		}
		a.reportWarnings(found)
		return nil
	}
	if found.HasErrors() {
		return found
	}
	if f.update {
		return a.reviseFile(f, x, drafts, found)
	}
	return a.addDrafts(f.into, x, drafts, found)
}

// openTable reads the sheets of a file: a workbook by how it begins, and text otherwise.
func (a *app) openTable(path string) ([]*sheet.Sheet, error) {
	file, err := a.openInput(path)
	if err != nil {
		return nil, unreadable(path, err)
	}
	defer file.Close()
	content := bufio.NewReader(file)
	if start, err := content.Peek(2); err == nil && string(start) == "PK" {
		sheets, ds := sheet.ReadXLSX(a.budget, path, content)
		return sheets, ds.Err()
	}
	table, ds := sheet.ReadCSV(a.budget, path, content)
	return []*sheet.Sheet{table}, ds.Err()
}

// tableOptions gives the flags as what the reader of tables takes.
func (f *importFlags) tableOptions(c *catalog.Catalogue) (sheet.Options, error) {
	o := sheet.Options{Kind: f.kind.value, Currency: strings.ToUpper(f.currency), Mounts: c.Mounts.Names()}
	if unit, ok := lang.FindUnit(o.Currency); f.currency != "" && (!ok || unit.Dim != lang.Money) {
		return o, usage(lang.UnknownUnit, "%q is no currency", f.currency).because("Give its code of three letters, as EUR.")
	}
	switch f.decimal.value {
	case "point":
		o.Decimal = '.'
	case "comma":
		o.Decimal = ','
	}
	var err error
	if o.Columns, err = pairsOf("--column", f.columns, "\"Gewicht=mass g\""); err != nil {
		return o, err
	}
	o.Defaults, err = pairsOf("--set", f.set, "mount=\"Deep bayonet\"")
	return o, err
}

func pairsOf(flag string, given []string, example string) (map[string]string, error) {
	pairs := map[string]string{}
	for _, pair := range given {
		name, value, ok := strings.Cut(pair, "=")
		if name = strings.TrimSpace(name); !ok || name == "" || strings.TrimSpace(value) == "" {
			return nil, usage(lang.MissingValue, "%q does not take %q", flag, pair).because("Write it as %s %s.", flag, example)
		}
		pairs[name] = strings.TrimSpace(value)
	}
	return pairs, nil
}

// understand reads the sheets that can be read; one that is named must be.
func understand(sheets []*sheet.Sheet, only string, o sheet.Options) ([]*sheet.Reading, lang.Diagnostics) {
	var titles []string
	for _, s := range sheets {
		titles = append(titles, s.Title)
	}
	if only != "" && !slices.Contains(titles, only) {
		c := usage(lang.UnknownName, "there is no sheet %q", only).or(lang.Nearest(only, titles)).because("The sheets are %s.", lang.Quoted(titles))
		return nil, lang.Diagnostics{c.Diagnostic}
	}
	var readings []*sheet.Reading
	var found, unread lang.Diagnostics
	for _, s := range sheets {
		if only != "" && s.Title != only {
			continue
		}
		r, ds := sheet.Understand(s, o)
		if r == nil {
			unread = append(unread, ds...)
			continue
		}
		readings = append(readings, r)
		found = append(found, ds...)
	}
	if readings == nil {
		return nil, unread
	}
	return readings, found
}

// addMounts puts a block for each mount that the catalogue lacks before the items that name
// it, and says so: without its flange distance no adapter can be worked out.
func addMounts(drafts []catalog.Draft, c *catalog.Catalogue, found lang.Diagnostics) ([]catalog.Draft, lang.Diagnostics) {
	var mounts []catalog.Draft
	known := slices.Clone(c.Mounts.Names())
	for _, d := range drafts {
		for _, line := range d.Lines {
			if line.Keyword != "mount" {
				continue
			}
			name, ok := lang.Unquote(line.Value)
			if !ok || slices.Contains(known, name) {
				continue
			}
			found.Add(lang.Diagnostic{
				Severity: lang.Warning, Code: lang.UnknownName, Span: line.At,
				Summary: fmt.Sprintf("the mount %q is new to the catalogue", name),
				Detail:  "Write its flange distance into its block, so that adapters can be worked out.",
				Instead: lang.Nearest(name, c.Mounts.Names()),
			})
			known = append(known, name)
			mounts = append(mounts, catalog.Draft{Kind: "mount", Name: name, At: line.At})
		}
	}
	return append(mounts, drafts...), found
}

// add gives the text of a catalogue with drafts behind what it holds, and what is wrong
// with it together with the catalogues beside it. Findings are placed where the drafts
// come from. Without an old text the drafts are all.
func (x *importContext) add(old *lang.Source, name string, drafts []catalog.Draft) (text, added string, found lang.Diagnostics) {
	head := ""
	if old != nil {
		head = old.Text
	}
	return x.extend(head, nil, name, drafts)
}

// extend is [importContext.add] to a text of which the lines have origins.
func (x *importContext) extend(head string, before []lang.Span, name string, drafts []catalog.Draft) (text, added string, found lang.Diagnostics) {
	added, origins := catalog.Compose(drafts)
	text = added
	switch {
	case head != "" && added == "":
		text, origins = head, before
	case head != "":
		head = strings.TrimRight(head, "\n") + "\n\n"
		lines := make([]lang.Span, strings.Count(head, "\n"))
		copy(lines, before)
		origins = append(lines, origins...)
		text = head + added
	}
	if name == "" {
		name = "the new catalogue"
	}
	composed, ds := lang.NewSource(name, []byte(text))
	if ds.HasErrors() {
		return text, added, ds
	}
	_, ds = catalog.Load(append([]*lang.Source{composed}, x.beside...)...)
	for _, d := range catalog.Relocate(ds, composed, origins) {
		if d.Code == lang.DuplicateName && d.Severity == lang.Error {
			d.Detail = "Give one of the two another name. If the list was amended, --update changes what is there."
		}
		// A warning about what stood there before is nothing that this run has to say.
		isNew := func(span lang.Span) bool {
			return span.Source != composed && !slices.Contains(x.beside, span.Source)
		}
		if d.Severity == lang.Error || isNew(d.Span) || slices.ContainsFunc(d.Related, func(r lang.Related) bool { return isNew(r.Span) }) {
			found.Add(d)
		}
	}
	return text, added, found
}

// addDrafts writes drafts into a catalogue, or prints them. Nothing is written when anything is
// wrong.
func (a *app) addDrafts(into string, x *importContext, drafts []catalog.Draft, found lang.Diagnostics) error {
	if into == "" {
		_, text, more := x.add(x.into, into, drafts)
		if more.HasErrors() {
			return append(found, more...)
		}
		a.reportWarnings(append(found, more...))
		return a.writeText(textWriter(text))
	}
	var more lang.Diagnostics
	err := a.updateFile(into, func(old *lang.Source) (string, error) {
		var text string
		text, _, more = x.add(old, into, drafts)
		return text, more.Err()
	})
	if err != nil {
		return err
	}
	a.reportWarnings(append(found, more...))
	counts := map[string]int{}
	for _, d := range drafts {
		counts[d.Kind]++
	}
	fmt.Fprintf(a.stderr, "%s: added %s\n", into, countKinds(counts))
	return nil
}

// countKinds says how many items of each kind there are: "2 lenses, 1 mount".
func countKinds(counts map[string]int) string {
	var parts []string
	for _, kind := range []struct{ one, many string }{{"lens", "lenses"}, {"camera", "cameras"}, {"rig", "rigs"}, {"filter", "filters"}, {"mount", "mounts"}, {"adapter", "adapters"}} {
		switch n := counts[kind.one]; n {
		case 0:
		case 1:
			parts = append(parts, "1 "+kind.one)
		default:
			parts = append(parts, fmt.Sprintf("%d %s", n, kind.many))
		}
	}
	return strings.Join(parts, ", ")
}
