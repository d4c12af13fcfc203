package engine

import (
	"context"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"glassbrief/engine/facts"
)

// A cell is the judgement of one lens in one shot, at the focal length that suits it
// best. It is what ranking and kit choice need; reasons are worked out for those that
// are shown.
type cell struct {
	focal    float64
	score    float64
	standing Standing
}

// worth orders cells: any lens of a better standing before any of a worse.
func (c cell) worth() float64 { return c.score - float64(c.standing) }

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

// judge gives the cell of a lens in a shot. ofShot holds the facts of the shot; r is
// scratch.
func judge(g *glass, shot *Shot, in *facts.ShotInput, ofShot, r *facts.Record) cell {
	if g.isPrime() {
		r.Join(ofShot, &g.record)
		facts.FillPair(r, &shot.reads)
		return cellOf(shot, r)
	}
	at := func(focal float64) cell {
		fillAt(r, g, ofShot, focal, &shot.reads)
		return cellOf(shot, r)
	}
	choices := focalChoices(in, g.height, g.input.FocalLow, g.input.FocalHigh)
	focal := bestFocal(choices, func(focal float64) float64 { return at(focal).worth() })
	return at(focal)
}

// cellOf judges a record.
func cellOf(shot *Shot, r *facts.Record) cell {
	judged := shot.Rules.Judge(r)
	c := cell{focal: r.Value[facts.FocalLength], score: judged.Score}
	switch {
	case judged.Excluded:
		c.standing = Excluded
	case judged.Known < EnoughKnown:
		c.standing = Undecided
	}
	if math.IsNaN(c.score) {
		c.score = 0
	}
	return c
}

// fillAt fills a record for a lens at a focal length in a shot.
func fillAt(r *facts.Record, g *glass, ofShot *facts.Record, focal float64, want *facts.Set) {
	var ofLens facts.Record
	facts.FillLens(&ofLens, &g.input, focal)
	r.Join(ofShot, &ofLens)
	facts.FillPair(r, want)
}

// judgeAll gives the cells of all shots and lenses, shots first. Workers take whole shots
// by a counter and write to places of their own, so the result does not depend on how
// many there are.
func judgeAll(ctx context.Context, shots []*Shot, inputs []facts.ShotInput, glass []*glass, workers int) ([][]cell, error) {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	cells := make([][]cell, len(shots))
	var next atomic.Int64
	var group sync.WaitGroup
	for range min(workers, len(shots)) {
		group.Go(func() {
			var ofShot, r facts.Record
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= len(shots) {
					return
				}
				facts.FillShot(&ofShot, &inputs[i])
				row := make([]cell, len(glass))
				for j, g := range glass {
					row[j] = judge(g, shots[i], &inputs[i], &ofShot, &r)
				}
				cells[i] = row
			}
		})
	}
	group.Wait()
	return cells, ctx.Err()
}
