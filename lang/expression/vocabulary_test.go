package expression

import (
	"testing"

	"glassbrief/lang"
)

// testNames are facts of every kind that the tests need.
func testNames() *Vocabulary {
	return NewVocabulary([]Name{
		{Name: "near_limit", Kind: Number, Dim: lang.Length, Unit: "m"},
		{Name: "far_limit", Kind: Number, Dim: lang.Length, Unit: "m"},
		{Name: "focal_length", Kind: Number, Dim: lang.Length, Unit: "mm"},
		{Name: "held_focus", Kind: Number, Unit: "%"},
		{Name: "focus_fixed", Kind: Truth},
		{Name: "rig_mass", Kind: Number, Dim: lang.Mass, Unit: "kg"},
		{Name: "shutter", Kind: Number, Dim: lang.Time, Unit: "s"},
		{Name: "stop_used", Kind: Number, Dim: lang.Aperture, Unit: "T"},
		{Name: "short_stops", Kind: Number, Dim: lang.Stops, Unit: "stops"},
		{Name: "count", Kind: Number},
	})
}

func spanOf(t testing.TB, text string) lang.Span {
	t.Helper()
	source, ds := lang.NewSource("test.rules", []byte(text))
	if ds.HasErrors() {
		t.Fatalf("NewSource(%q): %v", text, ds)
	}
	return lang.Span{Source: source, End: len(source.Text)}
}

func TestFitName(t *testing.T) {
	for name, want := range map[string]bool{
		"near_limit": true, "f2": true, "count": true, "all": true,
		"": false, "f": false, "T2": false, "2m": false, "Near": false, "near-limit": false,
		"and": false, "true": false, "in": false, "let": false, "because": false, "rising": false, "known": false,
	} {
		if got := FitName(name); got != want {
			t.Errorf("FitName(%q) = %v, want %v", name, got, want)
		}
	}
}

func TestVocabularyDefine(t *testing.T) {
	base := testNames()
	clone := base.Clone()
	index, ok := clone.Define(Name{Name: "reach", Kind: Number, Dim: lang.Length})
	if !ok || index != base.Len() {
		t.Errorf("Define of a new name = %d, %v, want %d, true", index, ok, base.Len())
	}
	if _, ok := clone.Define(Name{Name: "near_limit", Kind: Number}); ok {
		t.Error("Define took a name that stands already")
	}
	if _, ok := base.Lookup("reach"); ok {
		t.Error("defining a name in a clone changed the vocabulary it came from")
	}
}
