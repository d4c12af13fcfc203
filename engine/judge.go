package engine

import (
	"context"
	"math"
	"slices"
	"sync/atomic"

	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/engine/parallel"
)

// An Outcome is the judgement of one lens in one shot, at the focal length that suits it
// best. It is what ranking and kit choice need; reasons are worked out for those that
// are shown.
type Outcome struct {
	Focal    float64 // in metres, on the camera
	Score    float64 // 0..1, of what is known
	Standing Standing
}

// Worth orders outcomes: any lens of a better standing before any of a worse.
func (o Outcome) Worth() float64 { return o.Score - float64(o.Standing) }

// or gives the outcome that is worth more, the first of two alike.
func (o Outcome) or(other Outcome) Outcome {
	if other.Worth() > o.Worth() {
		return other
	}
	return o
}

// Acceptable reports whether the lens may be brought for the shot.
func (o Outcome) Acceptable() bool { return o.Standing == Judged && o.Score > 0 }

// A Standing says whether a lens may be proposed for a shot.
type Standing uint8

const (
	// Judged lenses are ranked by their score and may come into the kit.
	Judged Standing = iota
	// Undecided lenses are not excluded, but so little is known of them that their score
	// says little: they stay out of the kit until it is known.
	Undecided
	// Excluded lenses cannot do the shot.
	Excluded
)

// String names the standing.
func (s Standing) String() string {
	return [...]string{"judged", "undecided", "excluded"}[s]
}

// EnoughKnown is the share of the weight of the criteria that must be known for a lens to
// be proposed: below it a lens would win by what nobody knows of it. By the standard
// criteria a lens without a T-number stays out, since its light cannot be judged, and one
// whose distortion or mass alone is unknown does not.
const EnoughKnown = 0.85

// judge gives the outcome of a lens in a shot, of which r holds the facts.
//
// Every setting of a zoom is tried, for stop and ISO go in thirds: what a focal length is
// worth leaps up and down, and a search that looks at fewer would miss the best, or the
// only one that is not excluded. When all are, those of the wanted framing say why.
func judge(g *glass, shot *brief.Shot, in *facts.ShotInput, r *facts.Record) Outcome {
	g = g.in(shot)
	facts.FillPair(r, &g.record, shot.Plan)
	if g.zoom == nil {
		return outcomeOf(shot, r)
	}
	best := Outcome{Standing: Excluded, Score: -1} // of no setting yet
	for i := range g.zoom {
		r.SetFocal(g.zoom[i])
		facts.Refill(r, shot.AtFocal)
		if !shot.Rules.Excludes(r) {
			best = best.or(outcomeOf(shot, r))
		}
	}
	if best.Standing < Excluded {
		return best
	}
	for _, focal := range g.framingSettings(in) {
		facts.FillFocal(r, &g.input, focal)
		facts.Refill(r, shot.AtFocal)
		best = best.or(outcomeOf(shot, r))
	}
	return best
}

// outcomeOf judges a record.
func outcomeOf(shot *brief.Shot, r *facts.Record) Outcome {
	judged := shot.Rules.Judge(r)
	o := Outcome{Focal: r.Value[facts.FocalLength], Score: judged.Score}
	switch {
	case judged.Excluded:
		o.Standing = Excluded
	case judged.Known < EnoughKnown:
		o.Standing = Undecided
	}
	if math.IsNaN(o.Score) {
		o.Score = 0
	}
	return o
}

// fillAt adds all facts of a lens at a focal length to those of a shot.
func fillAt(r *facts.Record, g *glass, focal float64) {
	lens := g.record
	facts.FillFocal(&lens, &g.input, focal)
	facts.FillPair(r, &lens, facts.Every())
}

// judgeShot gives the outcomes of all lenses in one shot.
func judgeShot(shot *brief.Shot, in *facts.ShotInput, glass []*glass) []Outcome {
	row := make([]Outcome, len(glass))
	judgeInto(row, shot, in, glass)
	return row
}

func judgeInto(row []Outcome, shot *brief.Shot, in *facts.ShotInput, glass []*glass) {
	var r facts.Record
	facts.FillShot(&r, in)
	for j, g := range glass {
		row[j] = judge(g, shot, in, &r)
	}
}

// lensesAtOnce go through all shots together: so many stay in a processor's cache.
const lensesAtOnce = 128

// judgeAll gives the outcomes of all shots and lenses, shots first.
func judgeAll(ctx context.Context, shots []*brief.Shot, inputs []facts.ShotInput, glass []*glass, o Options) ([][]Outcome, error) {
	all := make([][]Outcome, len(shots))
	for i := range all {
		all[i] = make([]Outcome, len(glass))
	}
	parts := slices.Collect(slices.Chunk(glass, lensesAtOnce))
	var done atomic.Int64
	err := parallel.For(ctx, len(parts)*len(shots), o.Workers, func(n int) {
		i, part := n%len(shots), n/len(shots)
		judgeInto(all[i][part*lensesAtOnce:], shots[i], &inputs[i], parts[part])
		if n := int(done.Add(int64(len(parts[part])))); o.Progress != nil {
			o.Progress(n, len(shots)*len(glass))
		}
	})
	return all, err
}
