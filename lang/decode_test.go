package lang

import (
	"fmt"
	"strings"
	"testing"
)

type testShot struct {
	ID       Text         `lang:",label"`
	Title    Text         `lang:",label,optional"`
	Weight   Quantity     `lang:"weight,dim=plain"`
	Distance Interval     `lang:"distance,required,dim=length"`
	Light    Quantity     `lang:"light,dim=illuminance"`
	Frame    Size         `lang:"frame,dim=length"`
	Deliver  Ratio        `lang:"deliver"`
	Focus    Word         `lang:"focus,words=fixed|pulled|auto"`
	Low      Flag         `lang:"low"`
	Stops    List         `lang:"stops,dim=stops"`
	Needs    []Expression `lang:"need"`
	Move     testMove     `lang:"move"`
	Span     Span         `lang:",span"`
}

type testMove struct {
	Kind  Word
	Speed Quantity
}

func (m *testMove) DecodeArgs(args *Args) {
	m.Kind = args.Word("lead", "orbit")
	if args.PeekQuantity() {
		m.Speed = args.Quantity(Speed)
	}
}

type testFile struct {
	Uses    []Text     `lang:"use"`
	Carry   Quantity   `lang:"carry,dim=plain,noun=lenses"`
	Cameras []Text     `lang:"camera"`
	Shots   []testShot `lang:"shot"`
}

func decodeTest(t *testing.T, text string) (testFile, Diagnostics) {
	t.Helper()
	src, ds := NewSource("test", []byte(text))
	if ds != nil {
		t.Fatal(ds)
	}
	file, ds := Parse(src)
	var got testFile
	ds = append(ds, Decode(file, &got)...)
	return got, ds.Sorted()
}

func TestDecode(t *testing.T) {
	got, ds := decodeTest(t, `
use "a.catalog"
use "b.catalog"
carry 2 lenses
camera "A", "B" or "C"
shot "4A" "Deckhand" {
  weight 2
  distance 1.6m..2.8m
  light EV7
  frame 36mm x 24mm
  deliver 2.39:1
  focus fixed
  low
  stops 2, 4 or 6 stops
  move lead 1.2m/s
  need a < 2m because "so"
  need b
}
shot "4B" { distance 5ft 10in }
`)
	if ds != nil {
		t.Fatal(ds)
	}
	shot := got.Shots[0]
	for _, c := range []struct {
		name      string
		got, want any
	}{
		{"uses", len(got.Uses), 2},
		{"carry", got.Carry.Value, 2.0},
		{"third camera", got.Cameras[2].Value, "C"},
		{"cameras", len(got.Cameras), 3},
		{"list", fmt.Sprint(shot.Stops.Values()), "[2 4 6]"},
		{"place of a list", shot.Stops.Span.Text(), "2, 4 or 6 stops"},
		{"list left out", got.Shots[1].Stops.Known(), false},
		{"label", shot.ID.Value, "4A"},
		{"optional label", shot.Title.Value, "Deckhand"},
		{"optional label left out", got.Shots[1].Title.Value, ""},
		{"weight", shot.Weight.Value, 2.0},
		{"near", shot.Distance.Low.Value, 1.6},
		{"far", shot.Distance.High.Value, 2.8},
		{"single distance", got.Shots[1].Distance.High.Value, 1.778},
		{"unknown light", got.Shots[1].Light.Known(), false},
		{"light", shot.Light.Value, 320.0},
		{"frame height", shot.Frame.Height.Value, 0.024},
		{"ratio", shot.Deliver.Value, 2.39},
		{"word", shot.Focus.Value, "fixed"},
		{"flag", shot.Low.Set, true},
		{"flag left out", got.Shots[1].Low.Set, false},
		{"own decoder", shot.Move.Speed.Value, 1.2},
		{"expressions", len(shot.Needs), 2},
		{"reason", shot.Needs[0].Because.Value, "so"},
		{"span", shot.Span.Text(), "shot"},
	} {
		if c.got != c.want {
			t.Errorf("%s: got %v, want %v", c.name, c.got, c.want)
		}
	}
}

// Each case is one line inside a shot; the diagnostic must point at the marked text.
func TestDecodeFaults(t *testing.T) {
	for _, c := range []struct {
		line    string
		code    Code
		at      string
		instead string
	}{
		{"wieght 2", UnknownKeyword, "wieght", "weight"},
		{"light 320", MissingUnit, "320", ""},
		{"light 2kg", WrongDimension, "2kg", ""},
		{"light 320lxx", UnknownUnit, "lxx", "lx"},
		{"light 320 luxx", UnknownUnit, "luxx", "lux"},
		{"light \"bright\"", WrongKind, "\"bright\"", ""},
		{"light", MissingValue, "", ""},
		{"light 1e3", BadNumber, "e3", ""},
		{"light 1,5lx", InvalidCharacter, "1,5lx", "1.5lx"},
		{"weight 2 3", ExtraValue, "3", ""},
		{"weight 2 {}", ExtraValue, "{", ""},
		{"distance 3m", DuplicateField, "distance", ""},
		{"focus fixd", UnknownWord, "fixd", "fixed"},
		{"move lead 1.2m", WrongDimension, "1.2m", ""},
		{"deliver 0:1", OutOfRange, "0:1", ""},
		{"frame 36mm x 2kg", WrongDimension, "2kg", ""},
		{"frame 36mm", WrongKind, "36mm", ""},
		{"need", MissingValue, "", ""},
		{"stops 2, 4", MissingUnit, "2", ""},
		{"stops 2m, 4 stops", WrongDimension, "2m", ""},
		{"stops 2, 4 stopss", UnknownUnit, "stopss", "stops"},
		{"stops 2 stops..4 stops", WrongKind, "2 stops..4 stops", ""},
		{"stops 2 stops, wide", WrongKind, "wide", ""},
		{"stops 2 or", MissingValue, "", ""},
		{"stops 2, ", MissingValue, ",", ""},
		{"stops , 2", MissingValue, ",", ""},
		{"stops 1..2, 4 stops", MissingValue, ",", ""},
		{"stops 2,4 stops", InvalidCharacter, "2,4 stops", "2.4 stops"},
		{"light 2, 4lx", WrongKind, "2, 4lx", ""},
		{"focus fixed, auto", WrongKind, "fixed, auto", ""},
		{"low very", ExtraValue, "very", ""},
		{"frame 36mm x", MissingValue, "x", ""},
		{"focus \"fixed", UnclosedText, "\"fixed", ""},
		{"# remark", InvalidCharacter, "#", "//"},
		{"= 2", UnexpectedText, "=", ""},
	} {
		t.Run(c.line, func(t *testing.T) {
			_, ds := decodeTest(t, "shot \"1\" {\n distance 1m\n "+c.line+"\n}\n")
			if len(ds) != 1 {
				t.Fatalf("got %d diagnostics, want 1: %v", len(ds), ds)
			}
			d := ds[0]
			if d.Code != c.code || d.Span.Text() != c.at || d.Instead != c.instead {
				t.Errorf("got %s at %q, instead %q; want %s at %q, instead %q", d.Code, d.Span.Text(), d.Instead, c.code, c.at, c.instead)
			}
		})
	}
}

func TestDecodeIntervalFaults(t *testing.T) {
	for _, c := range []struct {
		value string
		code  Code
		at    string
	}{
		{"3m..2m", BadInterval, "3m..2m"},
		{"1.6..2.8m", MissingUnit, "1.6"},
		{"1.6m..2.8", MissingUnit, "2.8"},
		{"1m..2kg", WrongDimension, "2kg"},
		{"near..far", WrongKind, "near"},
	} {
		_, ds := decodeTest(t, "shot \"1\" { distance "+c.value+" }")
		if len(ds) != 1 || ds[0].Code != c.code || ds[0].Span.Text() != c.at {
			t.Errorf("distance %s: got %v; want %s at %q", c.value, ds, c.code, c.at)
		}
	}
}

func TestEveryFaultInOneRun(t *testing.T) {
	_, ds := decodeTest(t, `
shot "1" {
  wieght 2
  light 320
  distance 2m..
  focus "fixed
  frame 36mm x
}
shott "2" { distance 2m }
shot "3" {
`)
	var codes []string
	for _, d := range ds {
		codes = append(codes, string(d.Code))
	}
	got := strings.Join(codes, " ")
	want := "unknown-keyword missing-unit unclosed-text missing-value unknown-keyword missing-field unclosed-block"
	if got != want {
		t.Errorf("got %s\nwant %s\n%v", got, want, ds)
	}
}

// A field that takes rough figures keeps the word before them; others refuse it, and so does
// a text of its own.
func TestRoughFigures(t *testing.T) {
	type item struct {
		Mass   Quantity `lang:"mass,dim=mass,rough"`
		Focal  Interval `lang:"focal,dim=length,rough"`
		Length Quantity `lang:"length,dim=length"`
	}
	read := func(text string) (item, Diagnostics) {
		var got item
		src, _ := NewSource("test", []byte(text))
		file, found := Parse(src)
		return got, append(found, Decode(file, &got)...)
	}
	got, ds := read("mass about 480g\nfocal about 24mm..70mm\nlength 9cm")
	if ds != nil || !got.Mass.Rough || got.Mass.Value != 0.48 || got.Mass.Span.Text() != "480g" ||
		!got.Focal.Low.Rough || !got.Focal.High.Rough || got.Length.Rough {
		t.Errorf("got %+v, %v", got, ds)
	}
	if text := (Printer{}).Given(got.Mass); text != "about 480 g" {
		t.Errorf("shown as %q", text)
	}
	if got, ds = read("focal about 24mm.."); ds != nil || !got.Focal.Low.Rough || got.Focal.High.Rough {
		t.Errorf("got %+v, %v", got, ds)
	}
	for text, code := range map[string]Code{"mass about": MissingValue, "mass about about 480g": WrongKind, "mass about 48mm": WrongDimension, "length about 9cm": WrongKind} {
		if got, ds := read(text); len(ds) != 1 || ds[0].Code != code || got.Mass.Known() || got.Mass.Rough {
			t.Errorf("%s: got %+v, %v, want %s", text, got, ds, code)
		}
	}
	if _, err := ParseQuantity("--mass", "about 480g", Mass); err == nil {
		t.Error("a flag takes a rough figure, which nothing says in its result")
	}
}
