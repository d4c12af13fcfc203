package cmd

import (
	"fmt"
	"slices"
	"strings"

	"glassbrief/lang"
)

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
