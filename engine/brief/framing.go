package brief

import (
	"math"

	"glassbrief/engine/facts"
	"glassbrief/lang"
)

// A framing is a word of the trade and the height that the frame then shows, as a share
// of the subject's height: common practice, with the cuts at published body-segment
// proportions plus headroom.
type framing struct {
	word    string
	visible float64
}

var framings = []framing{
	{"extreme-close", 0.09}, {"close", 0.22}, {"medium-close", 0.33}, {"medium", 0.52},
	{"medium-full", 0.68}, {"full", 1.15}, {"wide", 2}, {"extreme-wide", 4},
}

// FramingWords lists the framing words from the tightest to the widest.
func FramingWords() []string {
	words := make([]string, len(framings))
	for i, f := range framings {
		words[i] = f.word
	}
	return words
}

// FramingBand gives the share of frame height that a subject fills in a framing, by its
// word.
func FramingBand(word string) (facts.Band, bool) {
	for _, f := range framings {
		if f.word == word {
			return bandOf(word), true
		}
	}
	return facts.Band{}, false
}

// bandOf gives the share of frame height that the subject fills in a framing. A picture
// counts as the framing whose word it is nearest to, so the band reaches to the geometric
// middle between neighbours, and as far beyond the first and the last.
func bandOf(word string) facts.Band {
	for i, f := range framings {
		if f.word != word {
			continue
		}
		tighter, wider := 0.0, 0.0
		if i > 0 {
			tighter = framings[i-1].visible
		}
		if i+1 < len(framings) {
			wider = framings[i+1].visible
		}
		if i == 0 {
			tighter = f.visible * f.visible / wider
		}
		if i+1 == len(framings) {
			wider = f.visible * f.visible / tighter
		}
		return facts.Band{Low: 1 / math.Sqrt(f.visible*wider), High: 1 / math.Sqrt(f.visible*tighter)}
	}
	return facts.Band{Low: math.NaN(), High: math.NaN()}
}

// Frame is what a shot asks of its framing: "frame medium", "frame close..medium" for a
// framing that changes over the move, or "frame 35%..60%" of the frame's height.
type Frame struct {
	Near, Far facts.Band // at the nearest and at the farthest distance
	Words     [2]string  // the words at those ends; empty when shares were given
	Span      lang.Span
}

// DecodeArgs reads the values of "frame".
func (f *Frame) DecodeArgs(args *lang.Args) {
	f.Span = args.Rest()
	if args.PeekKind() == lang.NumberPart {
		share := args.Interval(lang.Plain)
		if args.Failed() {
			return
		}
		low, high := share.Low.Or(share.High.Value), share.High.Or(share.Low.Value)
		if low == high {
			// A single share is a wish and not a measurement: allow a tenth either way.
			low, high = low/1.1, high*1.1
		}
		f.Near = facts.Band{Low: low, High: high}
		f.Far = f.Near
		return
	}
	near, far := args.WordInterval(FramingWords()...)
	if args.Failed() {
		return
	}
	f.Near, f.Far = bandOf(near.Value), bandOf(far.Value)
	f.Words = [2]string{near.Value, far.Value}
	if f.Far.Low > f.Near.Low {
		args.Report(lang.Diagnostic{
			Severity: lang.Error, Code: lang.BadInterval, Span: f.Span,
			Summary: "the framing is tightest at the nearest distance, so the tighter word comes first",
			Detail:  "Swap the two words.",
			Instead: far.Value + ".." + near.Value, Spelling: true,
		})
	}
}
