package cmd

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"

	"glassbrief/cmd/show"
	"glassbrief/engine/brief"
	"glassbrief/lang"

	"github.com/go-viper/mapstructure/v2"
	"github.com/spf13/viper"
)

// Settings are a person's or a project's choices on how glassbrief works and shows its
// results. A flag comes first, then the environment (GLASSBRIEF_UNITS and so on), the
// project's files, the nearest to the scenario before all others, the user's file, and the default.
// What each means is in settingTable.
type Settings struct {
	Units      string   `mapstructure:"units"`
	Color      string   `mapstructure:"color"`
	Width      int      `mapstructure:"width"`
	Catalogues []string `mapstructure:"catalogues"`
	Rules      []string `mapstructure:"rules"`
	Budget     string   `mapstructure:"budget"`
	Screen     []string `mapstructure:"screen"`
	ScreenRows int      `mapstructure:"screen_rows"`

	ChangePrice float64 `mapstructure:"change_price"`
	Crew        string  `mapstructure:"crew"`
	crew        lang.Quantity
}

const (
	settingsName = "settings.yaml"   // in the user's configuration folder
	projectName  = "glassbrief.yaml" // beside the scenario, or above it in its repository
)

// envPrefix begins the names of settings in the environment.
const envPrefix = "GLASSBRIEF"

var (
	unitSystems = []string{"metric", "imperial"}
	colorModes  = []string{"auto", "always", "never"}
)

// settingTable says what each setting is, and what it is unless given. Those that hold paths are read
// against the folder of the file that they stand in.
var settingTable = []struct {
	name, about string
	usual       any
	flag        bool // a flag of its name comes first
}{
	{"units", "units that answers are shown in: metric or imperial", "metric", true},
	{"color", "when to use colour: auto, always or never", "auto", true},
	{"width", "width of the text in cells; 0 is that of the terminal", 0, true},
	{"catalogues", "catalogues that are read before those of a scenario", []string{}, false},
	{"rules", "files of rules that are read before those of a scenario", []string{}, false},
	{"budget", "the most that one run reads", lang.SizeText(lang.DefaultBudget), true},
	{"screen", "parts of the first screen of recommend, in their order", screenParts, false},
	{"screen_rows", "the most rows of each of those parts; 0 is all", 0, false},
	{"change_price", "what a minute of changes is worth, where a scenario does not say", brief.UsualChangePrice, false},
	{"crew", "what a minute of the crew costs, where a scenario does not say", "", false},
}

// settingNames lists the keys.
var settingNames = func() (names []string) {
	for _, row := range settingTable {
		names = append(names, row.name)
	}
	return names
}()

// loadSettings settles the settings for a run; scenario is the file whose folder, and those above it in
// its repository, may hold the project's, or "". It fails with [lang.Diagnostics].
func (a *app) loadSettings(scenario string) error {
	if a.settings != nil {
		return nil
	}
	v := viper.NewWithOptions(viper.KeyDelimiter("::"))
	v.SetEnvPrefix(envPrefix)
	v.AutomaticEnv()
	for _, row := range settingTable {
		v.SetDefault(row.name, row.usual)
		if !row.flag {
			continue
		}
		if err := v.BindPFlag(row.name, a.root.PersistentFlags().Lookup(row.name)); err != nil {
			return err
		}
	}
	a.layers = nil
	for _, file := range a.settingsFiles(scenario) {
		if err := a.mergeSettings(v, file); err != nil {
			return err
		}
	}
	settled, found := decodeSettings(v, nil)
	if found != nil {
		return found
	}
	a.settings = settled
	if bytes, ok := lang.ParseBudget(settled.Budget); ok { // one that is empty leaves the usual
		a.budget.Raise(bytes)
	}
	return nil
}

// forget makes a run that stays ready for its next answer: files and settings may have been saved, and
// each scenario may have settings beside it.
func (a *app) forget() { a.settings, a.budget = nil, lang.NewBudget(lang.DefaultBudget) }

// alone gives an app that reads files beside others of the same run, and knows of none yet.
func (a *app) alone() *app {
	return &app{
		stdin: a.stdin, stdout: a.stdout, stderr: a.stderr, root: a.root, form: a.form, units: a.units, color: a.color,
		settingsFile: a.settingsFile, verbose: a.verbose, budget: lang.NewBudget(lang.DefaultBudget),
	}
}

// A settingsLayer is a file of settings that was read.
type settingsLayer struct {
	src  *lang.Source
	sets *viper.Viper
}

// settingFrom says where a setting has its value from: a flag, the environment, or the line of a file; "" for
// what holds unless given.
func (a *app) settingFrom(name string) string {
	if flag := a.root.PersistentFlags().Lookup(name); flag != nil && flag.Changed {
		return "flag --" + name
	}
	if variable := envPrefix + "_" + strings.ToUpper(name); os.Getenv(variable) != "" {
		return "variable " + variable
	}
	for _, layer := range slices.Backward(a.layers) {
		if layer.sets.IsSet(name) {
			return settingSpan(layer.src, name).String()
		}
	}
	return ""
}

type settingsFile struct {
	path string
	must bool // it is a fault if there is no such file
}

// settingsFiles lists the files to read, the weaker first.
func (a *app) settingsFiles(scenario string) []settingsFile {
	var files []settingsFile
	if dir, err := os.UserConfigDir(); err == nil {
		files = append(files, settingsFile{path: filepath.Join(dir, "glassbrief", settingsName)})
	}
	switch {
	case a.settingsFile != "":
		files = append(files, settingsFile{path: a.settingsFile, must: true})
	case scenario != "":
		for _, path := range projectFiles(filepath.Dir(scenario)) {
			files = append(files, settingsFile{path: path})
		}
	}
	return files
}

// projectFiles lists where the settings of a project may lie, the weaker first: the folder of a scenario
// and those above it up to the root of their repository, which holds .git. Outside of a repository it is
// that folder alone, since nobody knows who else writes into those above it.
func projectFiles(folder string) []string {
	files := []string{}
	for {
		files = append(files, filepath.Join(folder, projectName))
		whole, err := filepath.Abs(folder)
		if err != nil || filepath.Dir(whole) == whole {
			return files[:1]
		}
		if _, err := os.Lstat(filepath.Join(whole, ".git")); err == nil {
			slices.Reverse(files)
			return files
		}
		folder = filepath.Join(folder, "..")
	}
}

// mergeSettings lays a file's settings over those that v has, and says so when asked to.
func (a *app) mergeSettings(v *viper.Viper, file settingsFile) error {
	src, err := a.readPortion(file.path, lang.OfSettings)
	if !file.must && (errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENOTDIR)) {
		return nil
	}
	if err != nil {
		return err
	}
	one := viper.NewWithOptions(viper.KeyDelimiter("::"))
	one.SetConfigType("yaml")
	if err := one.ReadConfig(bytes.NewReader([]byte(src.Text))); err != nil {
		reason := err
		if inner := errors.Unwrap(err); inner != nil {
			reason = inner
		}
		return usage(lang.UnexpectedText, "the settings cannot be read: %s", strings.TrimPrefix(reason.Error(), "yaml: ")).
			at(lang.Span{Source: src}).because("Settings are YAML, one on a line, as in \"units: imperial\".")
	}
	settled, found := decodeSettings(one, src)
	if found != nil {
		return found
	}
	merged := one.AllSettings()
	dir := filepath.Dir(file.path)
	for name, paths := range map[string][]string{"catalogues": settled.Catalogues, "rules": settled.Rules} {
		if one.IsSet(name) {
			merged[name] = besides(dir, paths)
		}
	}
	if a.verbose {
		fmt.Fprintf(a.stderr, "settings: %s\n", file.path)
	}
	a.layers = append(a.layers, settingsLayer{src, one})
	return v.MergeConfigMap(merged)
}

// besides reads relative paths against a folder.
func besides(dir string, paths []string) []string {
	resolved := make([]string, len(paths))
	for i, path := range paths {
		if resolved[i] = path; !filepath.IsAbs(path) {
			resolved[i] = filepath.Join(dir, path)
		}
	}
	return resolved
}

// decodeSettings gives the typed settings of v and what is wrong with them. Without a
// source the values come from flags and the environment.
func decodeSettings(v *viper.Viper, src *lang.Source) (*Settings, lang.Diagnostics) {
	var found lang.Diagnostics
	complain := func(name string, c complaint) {
		found.Add(c.at(settingSpan(src, name)).Diagnostic)
	}
	keys := v.AllKeys()
	slices.Sort(keys)
	for _, key := range keys {
		if name, _, _ := strings.Cut(key, "::"); !slices.Contains(settingNames, name) {
			complain(name, usage(lang.UnknownKeyword, "the setting %q is not known", name).
				or(lang.Nearest(name, settingNames)).because("The settings are %s.", lang.Quoted(settingNames)))
		}
	}
	if found != nil {
		return nil, found
	}
	settled := &Settings{}
	if err := v.UnmarshalExact(settled); err != nil {
		name := ""
		var decode *mapstructure.DecodeError
		if errors.As(err, &decode) {
			name, _, _ = strings.Cut(decode.Name(), "[")
		}
		complain(name, usage(lang.WrongKind, "the setting %q does not take this value", name).
			because("Width, screen_rows and change_price take a number, units, color and budget take a word, crew takes an amount of money for a time, catalogues and rules take a list of files, and screen takes a list of words."))
		return nil, found
	}
	for _, word := range []struct {
		name, value string
		words       []string
	}{{"units", settled.Units, unitSystems}, {"color", settled.Color, colorModes}} {
		if word.value != "" && !slices.Contains(word.words, word.value) {
			complain(word.name, usage(lang.UnknownWord, "the setting %q does not take %q", word.name, word.value).
				or(lang.Nearest(word.value, word.words)).because("It takes %s.", lang.Quoted(word.words)))
		}
	}
	for _, part := range settled.Screen {
		if !slices.Contains(screenParts, part) {
			complain("screen", usage(lang.UnknownWord, "the setting \"screen\" does not take %q", part).
				or(lang.Nearest(part, screenParts)).because("It takes %s.", lang.Quoted(screenParts)))
		}
	}
	if _, ok := lang.ParseBudget(settled.Budget); !ok && settled.Budget != "" {
		complain("budget", usage(lang.OutOfRange, "the setting \"budget\" does not take %q", settled.Budget).
			because("It takes a size from %s, as \"256MB\".", lang.BudgetRange()))
	}
	if settled.ScreenRows < 0 {
		complain("screen_rows", usage(lang.OutOfRange, "%d rows cannot be shown", settled.ScreenRows).because("Write a number above 0, or 0 for all."))
	}
	if p := settled.ChangePrice; !(p >= 0 && p <= 1) {
		complain("change_price", usage(lang.OutOfRange, "the change_price %g is out of range", p).
			because("It is between 0 and 1: the score of a shot that a minute of changes is worth."))
	}
	if settled.Crew != "" {
		crew, d := lang.ParseQuantity("crew", settled.Crew, lang.Wage)
		switch {
		case d != nil || !brief.PossibleCrew(crew.Value):
			complain("crew", usage(lang.OutOfRange, "the setting \"crew\" does not take %q", settled.Crew).
				because("It takes what a minute of the crew costs, from 0.01 to 1000000 of a currency, as \"6 EUR/min\"."))
		default:
			settled.crew = crew
		}
	}
	if w := settled.Width; w != 0 && (w < show.MinWidth || w > show.MaxWidth) {
		complain("width", usage(lang.OutOfRange, "the width %d is out of range", w).
			because("It is between %d and %d cells, or 0 for that of the terminal.", show.MinWidth, show.MaxWidth))
	}
	return settled, found
}

// settingSpan finds the line that sets a name, for a caret; a setting that does not come
// from a file has no place.
func settingSpan(src *lang.Source, name string) lang.Span {
	if src == nil {
		return lang.Span{}
	}
	for number := 1; number <= src.Lines(); number++ {
		line, start := src.Line(number)
		key, _, found := strings.Cut(line, ":")
		if found && strings.EqualFold(strings.Trim(key, ` "'`), name) {
			return lang.Span{Source: src, Start: start, End: start + len(key)}
		}
	}
	return lang.Span{Source: src}
}
