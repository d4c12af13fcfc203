package cmd

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"unicode"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/lang"
)

// A newFile is one that is to be written into a folder that is begun.
type newFile struct{ name, text string }

// title gives the name of the production: the folder's, unless another is given.
func (b *beginning) title() string {
	if b.name != "" {
		return b.name
	}
	words := strings.FieldsFunc(b.base(), func(r rune) bool { return r == '-' || r == '_' || r == ' ' })
	text := []rune(strings.Join(words, " "))
	if len(text) == 0 {
		return "Scenario"
	}
	text[0] = unicode.ToUpper(text[0])
	return string(text)
}

// base gives the name of the folder, also of one that is named by dots.
func (b *beginning) base() string {
	if full, err := filepath.Abs(b.folder); err == nil {
		return strings.Trim(filepath.Base(full), string(filepath.Separator)+". ")
	}
	return ""
}

func (b *beginning) scenarioName() string {
	if base := b.base(); base != "" {
		return base + ".scenario"
	}
	return "plan.scenario"
}

// scriptName gives the path of the script in the folder, and whether it must be copied there.
func (b *beginning) scriptName() (name string, copied bool) {
	if path := relative(b.folder, b.script); filepath.IsLocal(path) {
		return filepath.ToSlash(path), false
	}
	return filepath.Base(b.script), true
}

// relative gives a path as it is written from a folder.
func relative(folder, path string) string {
	from, err1 := filepath.Abs(folder)
	to, err2 := filepath.Abs(path)
	if rel, err := filepath.Rel(from, to); err1 == nil && err2 == nil && err == nil {
		return rel
	}
	return path
}

// free makes sure that nothing stands where the files go.
func (b *beginning) free() error {
	if info, err := os.Stat(b.folder); err == nil && !info.IsDir() {
		return usage(lang.NotAllowed, "%q is a file", b.folder).because("Name a new folder, or one without a scenario.")
	}
	if parent := filepath.Dir(b.folder); !isFolder(parent) {
		return usage(lang.UnreadableFile, "there is no folder %q to make %q in", parent, b.folder).because("Make it first, or name another.")
	}
	names := []string{b.scenarioName(), houseName, projectName}
	if b.script != "" {
		if name, copied := b.scriptName(); copied {
			names = append(names, name)
		}
	}
	for _, name := range names {
		if _, err := os.Lstat(filepath.Join(b.folder, name)); err == nil {
			return b.taken(name)
		}
	}
	return nil
}

func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

func (b *beginning) taken(name string) error {
	return usage(lang.NotAllowed, "%q is there already, and nothing is overwritten", filepath.Join(b.folder, name)).
		because("Name another folder, or move that file away.")
}

// write composes all files, makes sure that a scenario can be read from them, and puts them in
// their place, all or none.
func (b *beginning) write() error {
	if err := b.free(); err != nil { // for an answer may have named a script
		return err
	}
	drafts := b.equipment()
	house, origins := b.houseText(drafts)
	src, found := lang.NewSource(houseName, []byte(house))
	if !found.HasErrors() {
		var all *catalog.Catalogue
		all, found = catalog.Load(src)
		found = append(catalog.Relocate(found, src, origins), b.unfit(all)...)
	}
	if b.found = append(b.found, found...); b.found.HasErrors() {
		return b.found
	}
	draft := brief.Draft{
		Name: b.title(), Catalogue: houseName, Camera: b.body.Name, Rig: b.rig.draft().Name, Shots: b.plan,
		About: []string{b.title() + ": begun with glassbrief."},
	}
	files := []newFile{{name: b.scenarioName()}, {houseName, house}, {projectName, fmt.Sprintf(houseSettings, b.settings.Units)}}
	if b.scenes != nil {
		name, copied := b.scriptName()
		if draft.Script = name; copied {
			files = append(files, newFile{name, b.scenes.Text})
		}
	}
	text, origins, examples := draft.Compose()
	files[0].text = text
	if err := b.place(files, origins); err != nil {
		return err
	}
	b.reportWarnings(b.found)
	return b.app.write(textWriter(b.farewell(files, examples)))
}

// place writes the files into a folder of their own, reads the scenario there, and then gives
// them their names.
func (b *beginning) place(files []newFile, origins []lang.Span) (err error) {
	cannot := func(err error) error {
		return usage(lang.UnreadableFile, "%q cannot be written: %s", b.folder, reasonOf(err)).
			because("Name a folder that you may write to.").causedBy(err)
	}
	exists := isFolder(b.folder)
	parent := filepath.Dir(b.folder)
	if exists {
		parent = b.folder
	}
	aside, err := os.MkdirTemp(parent, ".begin-*")
	if err != nil {
		return cannot(err)
	}
	defer os.RemoveAll(aside)
	for _, file := range files {
		if err := os.WriteFile(filepath.Join(aside, file.name), []byte(file.text), 0o644); err != nil {
			return cannot(err)
		}
	}
	if err := b.prove(aside, files[0], origins); err != nil {
		return err
	}
	if !exists {
		if err := errors.Join(os.Chmod(aside, 0o755), os.Rename(aside, b.folder)); err != nil {
			return cannot(err)
		}
		return nil
	}
	for i, file := range files {
		// A link takes a name only when nothing has it.
		if err := os.Link(filepath.Join(aside, file.name), filepath.Join(b.folder, file.name)); err != nil {
			for _, written := range files[:i] {
				os.Remove(filepath.Join(b.folder, written.name))
			}
			if errors.Is(err, fs.ErrExist) {
				return b.taken(file.name)
			}
			return cannot(err)
		}
	}
	return nil
}

// prove reads the scenario from the folder in which it was written.
func (b *beginning) prove(aside string, scenario newFile, origins []lang.Span) error {
	src, found := lang.NewSource(filepath.Join(b.folder, scenario.name), []byte(scenario.text))
	if found.HasErrors() {
		return found
	}
	root, err := os.OpenRoot(aside)
	if err != nil {
		return unreadable(b.folder, err)
	}
	defer root.Close()
	_, found = brief.Load(src, brief.Files{Tree: folder{b.app, root}, Name: b.folder})
	for _, d := range found {
		if d.Span.Source == src || d.Severity == lang.Error { // the catalogue has been read already
			b.found = append(b.found, catalog.Relocate(lang.Diagnostics{d}, src, origins)...)
		}
	}
	if b.found.HasErrors() {
		return b.found
	}
	return nil
}

// farewell says what was written, and what to run next.
func (b *beginning) farewell(files []newFile, examples int) string {
	var out strings.Builder
	scenario := filepath.Join(b.folder, files[0].name)
	names := make([]string, len(files))
	for i, file := range files {
		names[i] = file.name
	}
	fmt.Fprintf(&out, "Written into %s: %s.\n", b.folder, strings.Join(names, ", "))
	if examples > 0 {
		fmt.Fprintf(&out, "%d lines of %s are examples, marked %s: rewrite them.\n", examples, files[0].name, brief.Example)
	}
	fmt.Fprintf(&out, "Now run:\n\n  glassbrief recommend %s\n", shellWord(scenario))
	return out.String()
}

// shellWord writes a text as one word of a shell.
func shellWord(text string) string {
	plain := func(r rune) bool {
		return unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("-_./,+:@", r)
	}
	if text != "" && strings.IndexFunc(text, func(r rune) bool { return !plain(r) }) < 0 {
		return text
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "$", `\$`, "`", "\\`").Replace(text) + `"`
}
