package learn_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"glassbrief/engine/learn"
	"glassbrief/lang"

	"pgregory.net/rapid"
)

func source(t interface{ Fatal(...any) }, text string) *lang.Source {
	src, found := lang.NewSource("day.choices", []byte(text))
	if found.HasErrors() {
		t.Fatal(found)
	}
	return src
}

// statements lists the choices of a file with their scenarios.
func statements(t interface{ Fatal(...any) }, text string) (all []string) {
	groups, found := learn.Read(source(t, text))
	if found.HasErrors() {
		t.Fatal(found)
	}
	for _, group := range groups {
		for _, said := range group.Said {
			all = append(all, group.Path+": "+said.String())
		}
	}
	return all
}

func TestRead(t *testing.T) {
	got := statements(t, `choices "a.scenario" {
  chose "Wide 24" in shot "4A"
  chose "Wide 24" over "Wide 14" or "Wide \"18\"" in shot "4A"
}
choices "./below/../b.scenario" { chose "Wide 24" in shot "4A" }
`)
	want := []string{
		`a.scenario: chose "Wide 24" in shot "4A"`, `a.scenario: chose "Wide 24" over "Wide 14" or "Wide \"18\"" in shot "4A"`, `b.scenario: chose "Wide 24" in shot "4A"`,
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestFaultsOfChoices(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{`chose "Wide 24" in shot`, `"chose" lacks a quoted text`},
		{`chose "Wide 24"`, `"chose" lacks one of "in" or "over"`},
		{`chose Wide 24 in shot "4A"`, `"Wide 24 in shot" stands without quotes, and "chose" takes a quoted text here`},
		{`chose "Wide 24" over "Wide 18"`, `"chose" lacks one of "in" or "or"`},
		{`chose "Wide 24" in "4A"`, `"4A" is a quoted text, and "chose" takes one of "shot" here`},
		{`choose "Wide 24" in shot "4A"`, `"choose" means nothing in choices "a.scenario"`},
		{"chose \"Wide 24\" in shot \"4A\"\n  chose \"Wide 24\"   in shot \"4A\"", "the same choice stands twice"},
	} {
		_, found := learn.Read(source(t, "choices \"a.scenario\" {\n  "+c.text+"\n}\n"))
		if len(found) != 1 || found[0].Summary != c.want {
			t.Errorf("%s: got %v, want %q", c.text, found, c.want)
		}
	}
	for _, path := range []string{"..", "../a.scenario", "a/../../b.scenario", "/a.scenario", `..\a.scenario`, `C:\a.scenario`, ""} {
		_, found := learn.Read(source(t, "choices "+lang.Quote(path)+" {\n}\n"))
		if len(found) != 1 || found[0].Code != lang.OutsideTree {
			t.Errorf("%q: got %v, want a fault", path, found)
		}
	}
}

// What is added stands behind all else of its scenario, everything else stays to the byte, and a file that
// is tidy stays so.
func TestAdd(t *testing.T) {
	names := rapid.SampledFrom([]string{"Wide 24", "Zoom 16-35", `The "long" one`, "35 // mm", "ä}"})
	scenarios := rapid.SampledFrom([]string{"a.scenario", "b c.scenario", "below/a.scenario"})
	text := func(text string) lang.Text { return lang.Text{Value: text} }
	rapid.Check(t, func(t *rapid.T) {
		var b strings.Builder
		for i := range rapid.IntRange(0, 3).Draw(t, "blocks") {
			fmt.Fprintf(&b, "// %d\nchoices %s {\n", i, lang.Quote(scenarios.Draw(t, "scenario")))
			for k := range rapid.IntRange(0, 3).Draw(t, "choices") {
				fmt.Fprintf(&b, "  chose %s in shot \"%d%d\" // why not\n", lang.Quote(names.Draw(t, "lens")), i, k)
			}
			b.WriteString([]string{"}\n", "  // no more\n}\n\n"}[rapid.IntRange(0, 1).Draw(t, "end")])
		}
		src := source(t, b.String())
		if rapid.Bool().Draw(t, "tidy") {
			src = source(t, lang.Tidy(src))
		}
		said := learn.Said{Lens: text(names.Draw(t, "lens")), Shot: text("9Z")}
		for range rapid.IntRange(0, 2).Draw(t, "over") {
			said.Over = append(said.Over, text(names.Draw(t, "other")))
		}
		scenario := scenarios.Draw(t, "of")
		before := statements(t, src.Text)
		got, added, found := learn.Add(src, scenario, said)
		if found.HasErrors() || !added {
			t.Fatal(found, added)
		}
		rest := slices.Clone(before)
		for _, one := range statements(t, got) {
			if at := slices.Index(rest, one); at >= 0 {
				rest = slices.Delete(rest, at, at+1)
			} else if one != scenario+": "+said.String() {
				t.Fatalf("%q came from nowhere", one)
			}
		}
		if len(rest) > 0 || len(statements(t, got)) != len(before)+1 {
			t.Fatalf("%q are lost from\n%s\nin\n%s", rest, src.Text, got)
		}
		at := 0
		for line := range strings.Lines(src.Text) { // each is there, in its order
			next := strings.Index(got[at:], line)
			if next < 0 {
				t.Fatalf("%q is lost in\n%s", line, got)
			}
			at += next + len(line)
		}
		if lang.Tidy(src) == src.Text && lang.Tidy(source(t, got)) != got {
			t.Fatalf("not tidy:\n%s", got)
		}
		if again, added, _ := learn.Add(source(t, got), scenario, said); added || again != got {
			t.Fatalf("it is there already:\n%s", again)
		}
	})
	if text, added, _ := learn.Add(nil, "a.scenario", learn.Said{Lens: text("Wide 24"), Shot: text("4A")}); !added || text != "choices \"a.scenario\" {\n  chose     \"Wide 24\" in shot \"4A\"\n}\n" {
		t.Errorf("got %q", text)
	}
}
