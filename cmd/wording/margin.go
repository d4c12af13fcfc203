package wording

import (
	"strings"

	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/lang"
)

// NoneOfKit stands beside a shot that no lens of the kit does.
const NoneOfKit = "no lens of the kit does it"

// Margin says in one line with which lens a shot is done, in which set-up, and how well.
func Margin(j *engine.Judgement, p lang.Printer) string {
	said := []string{LensAt(j, p), Stop.In(j, p), "focus " + FocusAt.In(j, p), "ISO " + ISO.In(j, p)}
	if j.Fact(facts.ND) > 0 {
		said = append(said, "ND "+strings.TrimPrefix(ND.In(j, p), "ND "))
	}
	// Whether another value would move the score takes many judgements to say, for each shot of a long day.
	text := strings.Join(said, ", ") + " · " + Tilde(j.Rests) + hundredths(j.Score) + " " + j.Verdict().String()
	if doubt := DoubtOf(j, p); doubt != "" {
		if _, what, ok := strings.Cut(doubt, ": "); ok {
			text += ": " + what
		}
	}
	return text
}
