package kit

import (
	"math"
	"math/rand/v2"
	"testing"
)

// ruled makes a problem whose scores look like those of rules: a lens suits a shot by how
// near its focal length comes to the one wanted, and less the more it distorts or weighs;
// it is out where it is too slow for the light or frames the subject far off.
func ruled(seed uint64, lenses, shots, size int) *Problem {
	r := rand.New(rand.NewPCG(seed, 2))
	p := &Problem{Size: size, MaxCost: -1}
	type wish struct{ focal, stop, near float64 }
	wishes := make([]wish, shots)
	for shot := range wishes {
		wishes[shot] = wish{
			focal: math.Log2(14) + r.Float64()*math.Log2(100/14.0),
			stop:  1.4 + 6*r.Float64(),
			near:  0.3 + 2*r.Float64(),
		}
		p.Weights = append(p.Weights, float64(1+r.IntN(8))/2)
	}
	for range lenses {
		focal := math.Log2(12) + r.Float64()*math.Log2(135/12.0)
		stop := 1.2 + 3.5*r.Float64()
		near := 0.15 + 0.9*r.Float64()
		quality := 0.6 + 0.4*r.Float64()
		row := make([]float64, shots)
		for shot, w := range wishes {
			off := math.Abs(focal - w.focal)
			if off > 1.4 || near > w.near {
				continue
			}
			framing := math.Exp(-2 * off * off)
			light := min(1, w.stop/stop)
			row[shot] = math.Cbrt(framing * light * light * quality)
		}
		p.Scores = append(p.Scores, row)
		p.Mass = append(p.Mass, 0.3+2/stop*r.Float64())
		p.Cost = append(p.Cost, math.Round(20+60*r.Float64()))
	}
	return p
}

// tight gives the same problem with both limits at a share of what the best set uses.
func tight(tb testing.TB, p *Problem, share float64) *Problem {
	tb.Helper()
	best, err := Search{}.Solve(p, 0)
	if err != nil {
		tb.Fatal(err)
	}
	limited := *p
	limited.MaxMass = share * best.Sets[0].Mass
	limited.MaxCost = share * best.Sets[0].Cost
	return &limited
}
