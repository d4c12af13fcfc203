package taste

import (
	"math"
	"math/rand/v2"
	"testing"

	"glassbrief/engine/rules"
	"glassbrief/lang/langtest"
)

// drawPair makes two lenses in one shot, of n criteria that score: some do not apply, some are level,
// limits bite, and the shot prefers something or nothing.
func drawPair(r *rand.Rand, n int) *Held {
	h := &Held{}
	a, b := &rules.Unweighed{Limit: 1}, &rules.Unweighed{Limit: 1}
	if r.IntN(2) == 0 {
		a.Limit, b.Limit = 0.3+0.7*r.Float64(), 0.3+0.7*r.Float64()
	}
	add := func(scores int, weight float64) {
		mine := rules.Aspect{Applies: true, Complete: true, Scores: scores, Weight: weight}
		theirs := mine
		mine.Log, theirs.Log = -r.ExpFloat64(), -r.ExpFloat64()
		if r.IntN(4) == 0 {
			theirs.Log = mine.Log
		}
		a.Aspects, b.Aspects = append(a.Aspects, mine), append(b.Aspects, theirs)
	}
	for k := range n {
		weight := 0.5 + 4*r.Float64()
		h.Criteria = append(h.Criteria, &rules.Criterion{Weight: weight, Scores: make([]rules.Score, 1)})
		add(1, weight)
		if n > 2 && k > 0 && r.IntN(5) == 0 {
			a.Aspects[k], b.Aspects[k] = rules.Aspect{Weight: weight}, rules.Aspect{Weight: weight}
		}
	}
	if r.IntN(3) == 0 {
		add(2, 1) // what the shot prefers
	}
	h.cells = [][]*rules.Unweighed{{a, b}}
	return h
}

// Of the weightings drawn, as many let one lens win as the closed form says, in 1,000 pairs of 2 to 9
// criteria. A standard error says something of counts that are not tiny: of pairs that one lens wins
// nearly always no more than a few may come out otherwise.
func TestDrawsAgreeWithTheClosedForm(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 4))
	const draws, enough = Draws, 10
	worst := 0.0
	for pairs := langtest.Cases(1000); pairs > 0; {
		h := drawPair(r, 2+r.IntN(8))
		duel := h.Duel(0, 0, 1)
		if !duel.Exact || duel.Wins+duel.Loses > 1+1e-12 {
			t.Fatalf("%+v", duel)
		}
		d := newDrawing(h, draws)
		wins := 0
		for i := range draws {
			if h.cells[0][0].Judge(d.taste(i)).Score > h.cells[0][1].Judge(d.taste(i)).Score {
				wins++
			}
			for k, weight := range d.taste(draws + i) {
				if times := weight / h.Criteria[k].Weight; times < 0.5 || times > 2 {
					t.Fatalf("a weight is %v times that in force", times)
				}
			}
		}
		off := math.Abs(float64(wins) - duel.Wins*draws)
		if duel.Wins*draws < enough || (1-duel.Wins)*draws < enough {
			if off > enough {
				t.Errorf("%d criteria: %d of %d, and the closed form gives %.7f", len(h.Criteria), wins, draws, duel.Wins)
			}
			continue
		}
		pairs--
		errors := off / math.Sqrt(duel.Wins*(1-duel.Wins)*draws)
		if worst = max(worst, errors); errors > 3 {
			t.Errorf("%d criteria: %d of %d, and the closed form gives %.5f: %.2f standard errors apart", len(h.Criteria), wins, draws, duel.Wins, errors)
		}
	}
	t.Logf("at most %.2f standard errors apart", worst)
}

// Where the criteria differ that are known of the two, weightings are drawn.
func TestDuelOfWhatIsKnownOtherwise(t *testing.T) {
	// With two criteria of which the second is known of the first lens alone: its score is
	// exp(-w₁-2w₂) for w₁+w₂ = 1, against exp(-1.5), so that it wins where w₂ < ½.
	aspect := func(log float64) rules.Aspect {
		return rules.Aspect{Applies: true, Complete: true, Scores: 1, Log: log, Weight: 1}
	}
	h := &Held{cells: [][]*rules.Unweighed{{
		{Limit: 1, Aspects: []rules.Aspect{aspect(-1), aspect(-2)}},
		{Limit: 1, Aspects: []rules.Aspect{aspect(-1.5), {Weight: 1}}},
	}}}
	for range 2 {
		h.Criteria = append(h.Criteria, &rules.Criterion{Weight: 1, Scores: make([]rules.Score, 1)})
	}
	duel := h.Duel(0, 0, 1)
	if duel.Exact || math.Abs(duel.Wins-0.5) > 0.01 || math.Abs(duel.Loses-0.5) > 0.01 {
		t.Errorf("%+v", duel)
	}
}
