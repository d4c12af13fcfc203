package engine_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/enginetest"
	"glassbrief/lang"
)

// replace changes a text that must hold what is replaced.
func replace(t *testing.T, text, old, with string) string {
	t.Helper()
	if !strings.Contains(text, old) {
		t.Fatalf("the text does not hold %q", old)
	}
	return strings.Replace(text, old, with, 1)
}

// Limits that leave nothing to bring are named, with the lenses that they are about.
func TestContradictoryLimits(t *testing.T) {
	tests := []struct {
		name, limits string
		summary      string
		detail       string
	}{
		{"more to bring than may be carried", `carry 1 lenses` + "\n" + `bring "Wide 18" "Normal 35"`,
			"2 lenses must come, and only 1 may be carried", `"bring" asks for "Wide 18" and "Normal 35"`},
		{"brought and left", `bring "Wide 18"` + "\n" + `leave "Wide 18"`,
			`"bring" asks for "Wide 18", which "leave" keeps out`, "one of the two"},
		{"brought and hired", `bring "Zoom 24-70"` + "\n" + `owned_only`,
			`"bring" asks for "Zoom 24-70", which "owned_only" keeps out`, "one of the two"},
		{"brought and too heavy", `bring "Cine zoom 20-55"` + "\n" + `bag 1kg`,
			"the lenses that must come weigh 2.53 kg, and the bag may hold 1 kg", `"bring" asks for "Cine zoom 20-55"`},
		{"brought and too dear", `bring "Squeeze 50" "Zoom 24-70"` + "\n" + `rent 60 EUR`,
			"the lenses that must come cost 125.00 a day, and 60.00 may be spent", `"Zoom 24-70" and "Squeeze 50"`},
		{"a bag for nothing", `bag 10g`,
			"the lightest lens that may come weighs 0.13 kg, and the bag may hold 0.01 kg", "bag"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s, ds := enginetest.Load(t, enginetest.Trial(test.limits, ""))
			if ds.HasErrors() {
				t.Fatal(ds)
			}
			_, err := engine.Recommend(context.Background(), s, engine.Options{})
			var found lang.Diagnostics
			if !errors.As(err, &found) || len(found) != 1 {
				t.Fatalf("got %v, want one finding", err)
			}
			d := found[0]
			if d.Code != lang.Contradiction || d.Summary != test.summary || !strings.Contains(d.Detail, test.detail) {
				t.Errorf("got %s: %s\n%s\nwant %s: %s\n... %s ...", d.Code, d.Summary, d.Detail, lang.Contradiction, test.summary, test.detail)
			}
			if !d.Span.Known() {
				t.Error("the finding has no place in the scenario")
			}
		})
	}
}

func TestEmptyCatalogue(t *testing.T) {
	s := enginetest.ReadWith(t, drawnBrief{carry: 2, shots: []string{"shot \"1\" {\n subject person 1.7m\n frame medium\n distance 2m\n}"}}.scenario(), equipment)
	_, err := engine.Recommend(context.Background(), s, engine.Options{})
	if err == nil || !strings.Contains(err.Error(), "the catalogue holds no lens to choose from") {
		t.Errorf("got %v, want a sentence that there is no lens", err)
	}
}

// A shot that nobody can cover is no error: the rest of the day has its kit, and every
// lens says why not.
func TestShotThatNobodyCanCover(t *testing.T) {
	s, ds := enginetest.Load(t, enginetest.Trial("", "light 90lx\nneed face_stretch < 0.1%\n")+`
shot "2" {
  subject person 1.78m
  frame medium
  distance 2m..3m
  light 320lx
}
`)
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	r := enginetest.Recommend(t, s, engine.Options{})
	if len(r.Kit.Uncovered) != 1 || r.Kit.Uncovered[0] != "1" || len(r.Kit.Lenses) == 0 || r.Kit.Left != 1 {
		t.Errorf("got the kit %v that leaves %v, want one that leaves shot 1 alone", r.Kit.Lenses, r.Kit.Uncovered)
	}
	if r.Shots[0].Use != nil {
		t.Errorf("shot 1 is done with %s, want none", r.Shots[0].Use.Lens)
	}
	for _, j := range r.Shots[0].Ranking {
		if len(j.Vetoes()) == 0 {
			t.Errorf("%s has no veto in a shot that nobody can cover", j.Lens)
		}
	}
}

func TestKeptOut(t *testing.T) {
	s, ds := enginetest.Load(t, enginetest.Trial(`leave "Wide 14"`+"\n"+`rent 60 EUR`+"\n"+`bag 1kg`, ""))
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	r := enginetest.Recommend(t, s, engine.Options{})
	want := map[string]engine.Bar{
		"Wide 18": {}, "Wide 14": {By: "leave"}, "Zoom 24-70": {},
		"Squeeze 50": {By: "rent", Is: 90, Allowed: 60, Unit: "EUR"},
	}
	for j, lens := range r.Table.Lenses() {
		if bar, asked := want[lens.Name.Value]; asked {
			if got := r.Table.KeptOut(j); got != bar {
				t.Errorf("%s: got %+v, want %+v", lens.Name.Value, got, bar)
			}
			delete(want, lens.Name.Value)
		}
	}
	if len(want) > 0 {
		t.Errorf("not in the catalogue: %v", want)
	}
	for _, lens := range r.Table.Eligible().Lenses() {
		if lens.Name.Value == "Wide 14" || lens.Name.Value == "Squeeze 50" || lens.Name.Value == "Coin 8" {
			t.Errorf("%s is eligible, want it out", lens.Name.Value)
		}
	}
}

// The ranking says of a lens that only a limit keeps out that it does.
func TestRankingSaysWhatKeepsALensOut(t *testing.T) {
	s, ds := enginetest.Load(t, enginetest.Trial("rent 20 EUR", ""))
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	r := enginetest.Recommend(t, s, engine.Options{Hold: 1})
	want := engine.Bar{By: "rent", Is: 35, Allowed: 20, Unit: "EUR"}
	if got := r.Shots[0].Find("Zoom 24-70").KeptOut; got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if got := r.Shots[0].Find("Normal 35").KeptOut; got != (engine.Bar{}) {
		t.Errorf("got %+v for a lens of the house, want nothing", got)
	}
}
