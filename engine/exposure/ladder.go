package exposure

import (
	"math"
	"slices"
)

// A ladder is a scale in thirds of a stop as it is engraved: the marks are rounded, and
// not by one rule, so they are listed. Beyond its ends the exact third stands in.
type ladder struct {
	base    float64 // the value at step 0
	perStep float64 // log2 of the ratio of two steps
	first   int     // the step of the first mark
	marks   []float64
}

// Source of the marks: encyclopaedia, "F-number", one-third-stop scale.
var stopLadder = ladder{1, 1.0 / 6, -3, []float64{
	0.7, 0.8, 0.9,
	1, 1.1, 1.2, 1.4, 1.6, 1.8, 2, 2.2, 2.5, 2.8, 3.2, 3.5, 4, 4.5, 5, 5.6, 6.3, 7.1,
	8, 9, 10, 11, 13, 14, 16, 18, 20, 22, 25, 29, 32, 36, 40, 45, 51, 57, 64, 72, 80, 90,
}}

// The marks are the thirds of a stop as film boxes and cameras show them (common practice), each
// within 4 % of its exact value.
var isoLadder = ladder{100, 1.0 / 3, -9, []float64{
	12, 16, 20, 25, 32, 40, 50, 64, 80,
	100, 125, 160, 200, 250, 320, 400, 500, 640, 800, 1000, 1250, 1600, 2000, 2500, 3200, 4000, 5000, 6400, 8000, 10000,
	12800, 16000, 20000, 25600, 32000, 40000, 51200, 64000, 80000, 102400,
}}

func (l *ladder) exact(step int) float64 {
	return l.base * math.Exp2(float64(step)*l.perStep)
}

func (l *ladder) mark(step int) float64 {
	if i := step - l.first; i >= 0 && i < len(l.marks) {
		return l.marks[i]
	}
	return l.exact(step)
}

// place gives where between the steps a value lies.
func (l *ladder) place(value float64) float64 {
	return math.Log2(value/l.base) / l.perStep
}

func (l *ladder) nearest(value float64) float64 {
	if !(value > 0) || math.IsInf(value, 1) {
		return math.NaN()
	}
	return l.mark(int(math.Round(l.place(value))))
}

// ThirdStop gives the exact f-number so many thirds of a stop from f/1: 2^(k/6).
func ThirdStop(thirds int) float64 { return stopLadder.exact(thirds) }

// Marked gives the stop as it is engraved in thirds that lies nearest to an exact one:
// 2.8 for 2.828. stop is positive and finite.
func Marked(stop float64) float64 { return stopLadder.nearest(stop) }

// NextMarked gives the smallest engraved stop that is not below stop, which is positive
// and finite. An engraved number is taken as it stands, so 5.657 gives 6.3 and not 5.6.
func NextMarked(stop float64) float64 {
	if !(stop > 0) || math.IsInf(stop, 1) {
		return math.NaN()
	}
	const rounding = 1e-9
	stop *= 1 - rounding
	marks := stopLadder.marks
	if marks[0] < stop && stop <= marks[len(marks)-1] {
		// The usual case, without the logarithm: it runs for every lens in every shot.
		at, _ := slices.BinarySearch(marks, stop)
		return marks[at]
	}
	step := int(math.Floor(stopLadder.place(stop))) - 1
	for stopLadder.mark(step) < stop {
		step++
	}
	return stopLadder.mark(step)
}

// MarkedISO gives the ISO speed as cameras show it in thirds of a stop that lies nearest
// to an exact one: 125 for 126. iso is positive and finite.
func MarkedISO(iso float64) float64 { return isoLadder.nearest(iso) }

// StopsWithin lists the f-numbers that can be set between a widest and a smallest one: the
// two and every engraved third between them, the widest first. 0 < widest <= smallest.
func StopsWithin(widest, smallest float64) []float64 { return stopLadder.within(widest, smallest) }

// ISOsWithin lists the ISO speeds that can be set between a lowest and a highest one: the two
// and every third between them, the lowest first. 0 < lowest <= highest.
func ISOsWithin(lowest, highest float64) []float64 { return isoLadder.within(lowest, highest) }

func (l *ladder) within(low, high float64) []float64 {
	if !(low > 0 && high >= low) || math.IsInf(high, 1) {
		return nil
	}
	first, steps := int(math.Floor(l.place(low)))-1, int(math.Ceil(l.place(high/low)-l.place(1)))
	all := append(make([]float64, 0, steps+2), low)
	const rounding = 1e-9
	for step := first; ; step++ {
		switch mark := l.mark(step); {
		case mark >= high*(1-rounding):
			if high > low {
				all = append(all, high)
			}
			return all
		case mark > low*(1+rounding):
			all = append(all, mark)
		}
	}
}
