package why

import (
	"cmp"
	"math"
	"slices"

	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
)

// wordsAway bounds how far a framing is changed, in words: farther it is another shot.
const wordsAway = 2

// aWord is by what factor a share of the frame is changed that counts as one word: words lie
// about half a doubling apart.
const aWord = math.Sqrt2

// framingKnob turns the framing word by word, at the two ends of a framing that changes each by
// itself as well. Shares are turned by halves of a word.
func framingKnob(s *brief.Scenario, shot *brief.Shot) knob {
	k := knob{figure: Framing, now: filled(shot.Frame)}
	add := func(frame brief.Frame, size float64) {
		k.clicks = append(k.clicks, click{filled(frame), size, func() (*brief.Scenario, *brief.Shot) {
			changed := *shot
			changed.Frame = frame
			return s, &changed
		}})
	}
	words := brief.FramingWords()
	near, far := slices.Index(words, shot.Frame.Words[0]), slices.Index(words, shot.Frame.Words[1])
	if near < 0 {
		for _, half := range []float64{-4, -3, -2, -1, 1, 2, 3, 4} {
			frame, factor := shot.Frame, math.Pow(aWord, half/2)
			for _, band := range []*facts.Band{&frame.Near, &frame.Far} {
				band.Low, band.High = band.Low*factor, band.High*factor
			}
			add(frame, math.Abs(half)/2)
		}
	} else {
		for n := max(0, near-wordsAway); n <= min(near+wordsAway, len(words)-1); n++ {
			for f := max(0, far-wordsAway); f <= min(far+wordsAway, len(words)-1); f++ {
				apart := near != far
				if n == near && f == far || n > f || !apart && n != f {
					continue
				}
				frame := shot.Frame
				frame.Words = [2]string{words[n], words[f]}
				frame.Near, _ = brief.FramingBand(words[n])
				frame.Far, _ = brief.FramingBand(words[f])
				size := math.Abs(float64(n - near))
				if apart {
					size += math.Abs(float64(f - far))
				}
				add(frame, size)
			}
		}
	}
	slices.SortStableFunc(k.clicks, func(a, b click) int { return cmp.Compare(a.size, b.size) })
	return k
}

// filled gives the share of the frame that a subject fills, in the middle of what is asked.
func filled(f brief.Frame) float64 {
	return math.Pow(f.Near.Low*f.Near.High*f.Far.Low*f.Far.High, 0.25)
}
