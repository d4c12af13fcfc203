package engine_test

import (
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/facts"
)

// Each word of a move reaches the facts as its row says, and each names a hazard unless the
// camera stands.
func TestMovesReachTheFacts(t *testing.T) {
	type reached struct{ Speed, Turn, Sweep, Backwards, Stairs, Step bool }
	walks := reached{Speed: true, Step: true}
	want := map[string]reached{
		"hold": {}, "follow": walks, "push-in": walks, "pass-through": walks,
		"lead":     {Speed: true, Step: true, Backwards: true},
		"pull-out": {Speed: true, Step: true, Backwards: true},
		"side":     {Speed: true, Step: true, Sweep: true},
		"orbit":    {Speed: true, Step: true, Turn: true},
		"boom":     {Speed: true, Sweep: true},
		"stairs":   {Speed: true, Step: true, Stairs: true},
	}
	for _, word := range brief.Moves() {
		s := enginetest.Read(t, strings.Replace(enginetest.Trial("", ""), "move lead", "move "+word, 1), brief.Files{})
		j := &enginetest.Recommend(t, s, engine.Options{}).Shots[0].Ranking[0]
		got := reached{
			j.Fact(facts.CameraSpeed) > 0, j.Fact(facts.TurnRate) > 0, j.Fact(facts.SweepSpeed) > 0,
			j.Fact(facts.WalksBackwards) == 1, j.Fact(facts.OnStairs) == 1, j.Fact(facts.Bob) > 0,
		}
		if got != want[word] {
			t.Errorf("%s: got %+v, want %+v", word, got, want[word])
		}
		if hazard := s.Shots[0].Move.Hazard; (hazard == brief.NoHazard) != (word == "hold") {
			t.Errorf("%s: got hazard %d", word, hazard)
		}
	}
}
