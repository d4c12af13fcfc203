package engine

import (
	"math"

	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
)

// A Verdict says in a word how a lens does a shot: by its worst aspect, whatever the mean of
// all says.
type Verdict uint8

const (
	Good Verdict = iota
	Fair
	Poor
	Out // it is excluded, or too little is known of it
)

// String gives the word, as it stands in JSON.
func (v Verdict) String() string { return [...]string{"good", "fair", "poor", "out"}[v] }

// An aspect worth less than fairFrom makes a shot poor, and one worth less than goodFrom fair
// at best (assumptions of this project). What a brief prefers is a wish: it makes no shot poor.
const (
	goodFrom = 0.65
	fairFrom = 0.41
)

// Verdict gives the verdict of a judgement that is explained.
func (j *Judgement) Verdict() Verdict {
	v, _ := j.weigh(func(*rules.Finding) bool { return true })
	return v
}

// VerdictOn gives the verdict of one aspect by the worst criterion that is about it: over the whole
// way, and without those that limit it, which where it holds say nothing against it.
func (j *Judgement) VerdictOn(a Aspect) (whole, held Verdict) {
	whole, _ = j.weigh(func(f *rules.Finding) bool { return isAbout(f, a) })
	held, _ = j.weigh(func(f *rules.Finding) bool { return isAbout(f, a) && !isLimiting(f, a) })
	return whole, held
}

// Weakest gives the criterion that the verdict rests on, nil where it is good or out.
func (j *Judgement) Weakest() *rules.Finding {
	_, f := j.weigh(func(*rules.Finding) bool { return true })
	return f
}

// weigh goes by the criteria that count.
func (j *Judgement) weigh(counts func(f *rules.Finding) bool) (verdict Verdict, on *rules.Finding) {
	if j.Standing != Judged || j.Score == 0 {
		return Out, nil
	}
	least := math.Inf(1)
	for i := range j.Criteria {
		f := &j.Criteria[i]
		if !counts(f) {
			continue
		}
		worth := f.Score
		for _, limit := range f.Bites {
			if math.IsNaN(worth) {
				worth = 1
			}
			worth *= limit.Factor
		}
		of := Good
		switch { // what is not known is not counted
		case worth < fairFrom && f.Name != rules.BriefName:
			of = Poor
		case worth < goodFrom:
			of = Fair
		}
		if of > verdict || of == verdict && of != Good && worth < least {
			verdict, on, least = of, f, worth
		}
	}
	return verdict, on
}

// saidOver is how many stops too much pass unsaid: a third, the step of a camera (common
// practice).
const saidOver = 1.0/3 + 1e-9

// TooBright reports whether the set-up leaves more light over than passes unsaid. That of an
// excluded lens is its least bad one.
func (j *Judgement) TooBright() bool { return j.Fact(facts.Over) > saidOver }
