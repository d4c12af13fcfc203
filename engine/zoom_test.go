package engine_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/facts"

	"pgregory.net/rapid"
)

// A zoom is set to a whole millimetre of its range, and does as well there as a prime with
// its figures at any whole millimetre of the range.
func TestZoomDoesAsWellAsAnyPrimeInItsRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.IntRange(9, 60).Draw(t, "low")
		high := low + rapid.IntRange(1, 40).Draw(t, "reach")
		figures := append(evenFigures(t), `mount "Near"`)
		lens := func(name, focal string) string { return block("lens", name, append(figures, "focal "+focal)) }
		b := drawnBrief{
			carry: 1, shots: []string{drawShot(t, "1A")},
			lenses: []string{lens("Zoom", fmt.Sprintf("%dmm..%dmm", low, high))},
		}
		for mm := low; mm <= high; mm++ {
			b.lenses = append(b.lenses, lens(fmt.Sprintf("Prime %d", mm), fmt.Sprintf("%dmm", mm)))
		}
		r := enginetest.Recommend(t, b.load(t), engine.Options{})
		zoom := r.Shots[0].Find("Zoom")
		focal := zoom.Fact(facts.FocalLength) * 1000
		if math.Abs(focal-math.Round(focal)) > 1e-9 || focal < float64(low)-1e-9 || focal > float64(high)+1e-9 {
			t.Errorf("got %v mm, want a whole millimetre from %d to %d", focal, low, high)
		}
		for _, other := range r.Shots[0].Ranking {
			if other.Standing < zoom.Standing || other.Standing == engine.Judged && other.Score > zoom.Score+1e-9 {
				t.Fatalf("%s is %s with %v, the zoom at %.3f mm %s with %v", other.Lens, other.Standing, other.Score, focal, zoom.Standing, zoom.Score)
			}
		}
	})
}

// A zoom with engraved focal lengths is set to one of them, and does as well there as the
// best prime of those.
func TestEngravedZoomIsOneOfItsPrimes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		marks := rapid.SliceOfNDistinct(rapid.IntRange(9, 90), 2, 6, rapid.ID).Draw(t, "engraved")
		low, high := slices.Min(marks)-rapid.IntRange(0, 3).Draw(t, "below"), slices.Max(marks)+rapid.IntRange(0, 3).Draw(t, "above")
		figures := append(evenFigures(t), `mount "Near"`)
		lens := func(name string, lines ...string) string {
			return block("lens", name, append(slices.Clone(figures), lines...))
		}
		engraved := strings.Trim(strings.ReplaceAll(fmt.Sprint(marks), " ", ", "), "[]") + "mm"
		b := drawnBrief{
			carry: 1, shots: []string{drawShot(t, "1A")},
			lenses: []string{lens("Zoom", fmt.Sprintf("focal %dmm..%dmm", low, high), "engraved "+engraved)},
		}
		for _, mm := range marks {
			b.lenses = append(b.lenses, lens(fmt.Sprintf("Prime %d", mm), fmt.Sprintf("focal %dmm", mm)))
		}
		r := enginetest.Recommend(t, b.load(t), engine.Options{})
		zoom := r.Shots[0].Find("Zoom")
		focal := zoom.Fact(facts.FocalLength) * 1000
		if !slices.ContainsFunc(marks, func(mm int) bool { return math.Abs(focal-float64(mm)) < 1e-9 }) {
			t.Errorf("got %v mm, want one of %v", focal, marks)
		}
		for _, other := range r.Shots[0].Ranking {
			if other.Standing < zoom.Standing || other.Standing == engine.Judged && other.Score > zoom.Score+1e-9 {
				t.Fatalf("%s is %s with %v, the zoom at %.3f mm %s with %v", other.Lens, other.Standing, other.Score, focal, zoom.Standing, zoom.Score)
			}
		}
	})
}
