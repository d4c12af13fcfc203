package engine

import (
	"math"

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
	if j.Standing != Judged || j.Score == 0 {
		return Out
	}
	worst := Good
	for i := range j.Criteria {
		f := &j.Criteria[i]
		worth := f.Score
		for _, limit := range f.Bites {
			if math.IsNaN(worth) {
				worth = 1
			}
			worth *= limit.Factor
		}
		switch { // what is not known is not counted
		case worth < fairFrom && f.Name != rules.BriefName:
			return Poor
		case worth < goodFrom:
			worst = Fair
		}
	}
	return worst
}

// InPart gives the limits that bite: where they do, the shot is not done whole. There are
// none for a lens that is out.
func (j *Judgement) InPart() []rules.Raised {
	if j.Standing != Judged {
		return nil
	}
	var all []rules.Raised
	for _, finding := range j.Criteria {
		all = append(all, finding.Bites...)
	}
	return all
}
