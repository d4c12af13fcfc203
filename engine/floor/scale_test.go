package floor

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestScaleStops(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		widest, smallest float64
		want             []float64
	}{
		{2, 22, []float64{2, 2.8, 4, 5.6, 8, 11, 16, 22}},
		{1.8, 16, []float64{1.8, 2, 2.8, 4, 5.6, 8, 11, 16}},
		{2.7, 8, []float64{2.7, 4, 5.6, 8}},
		{nan, nan, []float64{1.4, 2, 2.8, 4, 5.6, 8, 11, 16, 22}},
		{4, 2, []float64{4}},
	} {
		if diff := cmp.Diff(c.want, ScaleStops(c.widest, c.smallest)); diff != "" {
			t.Errorf("f/%g to f/%g differs (-want +got):\n%s", c.widest, c.smallest, diff)
		}
	}
}

// A scale runs outwards, opens with the stop, and has its mark between its limits; at
// infinity its near limit is the hyperfocal distance less the focal length.
func TestScaleIsOrdered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		focal := rapid.Float64Range(0.008, 0.2).Draw(t, "focal")
		confusion := rapid.Float64Range(0.008e-3, 0.05e-3).Draw(t, "confusion")
		closest := rapid.SampledFrom([]float64{math.NaN(), 0.2, 0.6, 1}).Draw(t, "closest")
		stops := ScaleStops(2, 22)
		scale := Scale(focal, confusion, closest, stops, rapid.Bool().Draw(t, "feet"))
		for i, m := range scale {
			if m.Distance < closest {
				t.Errorf("the mark %g is nearer than the closest focus %g", m.Distance, closest)
			}
			if i > 0 && m.Distance <= scale[i-1].Distance {
				t.Errorf("the mark %g follows %g", m.Distance, scale[i-1].Distance)
			}
			for k := range stops {
				if !(m.Near[k] <= m.Distance*(1+1e-9) && m.Far[k] >= m.Distance*(1-1e-9)) {
					t.Errorf("at %g m and f/%g: sharp from %g to %g", m.Distance, stops[k], m.Near[k], m.Far[k])
				}
				if k > 0 && (m.Near[k] > m.Near[k-1] || m.Far[k] < m.Far[k-1]) {
					t.Errorf("at %g m f/%g shows less than f/%g", m.Distance, stops[k], stops[k-1])
				}
			}
		}
		last := scale[len(scale)-1]
		if !math.IsInf(last.Distance, 1) || !math.IsInf(last.Far[0], 1) {
			t.Errorf("the last mark is %g, sharp to %g, want infinity", last.Distance, last.Far[0])
		}
	})
}

func TestScaleOfAKnownLens(t *testing.T) {
	for _, m := range Scale(0.050, 0.03e-3, 0.45, []float64{8}, false) {
		if m.Distance == 3 {
			// 50 mm at f/8 set to 3 m by the tape is 2.949 m from the lens.
			if math.Abs(m.Near[0]-2.358) > 1e-3 || math.Abs(m.Far[0]-4.137) > 1e-3 {
				t.Errorf("got %g to %g, want 2.358 to 4.137", m.Near[0], m.Far[0])
			}
			return
		}
	}
	t.Error("there is no mark at 3 m")
}
