package balance

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func drawRig(t *rapid.T) (Sled, Load) {
	s := Sled{
		Base:      rapid.Float64Range(0.1, 3).Draw(t, "base"),
		PostIn:    rapid.Float64Range(0.2, 0.4).Draw(t, "post in"),
		Plate:     rapid.Float64Range(0.03, 0.3).Draw(t, "plate"),
		MaxPlates: rapid.IntRange(0, 16).Draw(t, "plates"),
		Reach:     rapid.Float64Range(0, 0.2).Draw(t, "reach"),
		Inverted:  rapid.Bool().Draw(t, "inverted"),
	}
	s.PostOut = s.PostIn + rapid.Float64Range(0, 0.3).Draw(t, "travel")
	s.Mass = s.Base + rapid.Float64Range(0.2, 3).Draw(t, "top")
	s.Offset = rapid.Float64Range(0, 0.2).Draw(t, "sled offset")
	s.Inertia = s.Base*s.PostIn*s.PostIn + rapid.Float64Range(0.001, 0.1).Draw(t, "top inertia")
	return s, Load{
		Mass:    rapid.Float64Range(0.5, 6).Draw(t, "payload"),
		Height:  rapid.Float64Range(0.05, 0.3).Draw(t, "payload height"),
		Inertia: rapid.Float64Range(0, 0.05).Draw(t, "payload inertia"),
	}
}

// A trim is what its parts, one by one, add up to.
func TestTrimIsTheSumOfItsParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, payload := drawRig(t)
		pairs := rapid.IntRange(0, s.MaxPlates/2).Draw(t, "pairs")
		post := rapid.Float64Range(s.PostIn, s.PostOut).Draw(t, "post")
		// The sled without its base: what is left of mass, moment and inertia.
		top := Load{Mass: s.Mass - s.Base, Height: -(s.Mass*s.Offset - s.Base*s.PostIn) / (s.Mass - s.Base)}
		top.Inertia = s.Inertia - s.Base*s.PostIn*s.PostIn - top.Mass*top.Height*top.Height
		half := float64(pairs) * s.Plate
		mass, offset, inertia := Combine(top, Load{Mass: s.Base, Height: -post}, payload,
			Load{Mass: half, Height: -post, Forward: s.Reach}, Load{Mass: half, Height: -post, Forward: -s.Reach})
		if s.Inverted {
			offset = -offset
		}
		got := s.At(payload, 2*pairs, post)
		if !near(got.Mass, mass, 1e-12) || math.Abs(got.Offset-offset) > 1e-12 || !near(got.Inertia, inertia, 1e-9) {
			t.Errorf("got %g kg, %g m, %g kg m², want %g, %g, %g", got.Mass, got.Offset, got.Inertia, mass, offset, inertia)
		}
	})
}

func TestPostForInverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, payload := drawRig(t)
		plates := 2 * rapid.IntRange(0, s.MaxPlates/2).Draw(t, "pairs")
		want := s.At(payload, plates, rapid.Float64Range(s.PostIn, s.PostOut).Draw(t, "post")).Drop
		if math.IsNaN(want) {
			t.Skip("top-heavy there")
		}
		post, ok := s.PostFor(payload, plates, want)
		if got := s.At(payload, plates, post).Drop; !ok || !near(got, want, 1e-9) {
			t.Errorf("got a drop of %.12g s (%t) at %g m, want %.12g", got, ok, post, want)
		}
	})
}

// What the solver finds lies in the window, and it finds something with no more plates
// than any trim that a plain search over plates and post comes upon.
func TestFewestAgreesWithSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, payload := drawRig(t)
		low := rapid.Float64Range(0.5, 2.5).Draw(t, "low")
		high := low + rapid.Float64Range(0, 1).Draw(t, "width")
		got, ok := s.Fewest(payload, low, high)
		if ok && !(got.Drop >= low*(1-1e-9) && got.Drop <= high*(1+1e-9) && s.reaches(got.Post) && got.Plates%2 == 0 && got.Plates <= s.MaxPlates) {
			t.Errorf("got %+v, want a drop from %g to %g within what the rig can do", got, low, high)
		}
		shortest, longest := s.Reachable(payload)
		const steps = 50
		for plates := 0; plates <= s.MaxPlates; plates += 2 {
			for i := range steps + 1 {
				drop := s.At(payload, plates, s.PostIn+(s.PostOut-s.PostIn)*float64(i)/steps).Drop
				if math.IsNaN(drop) {
					continue
				}
				if drop < shortest*(1-1e-9) || drop > longest*(1+1e-9) || math.IsNaN(shortest) {
					t.Errorf("a drop of %g s lies outside the reachable %g to %g", drop, shortest, longest)
				}
				if drop >= low && drop <= high && !(ok && got.Plates <= plates) {
					t.Errorf("got %+v (%t), but %d plates do", got, ok, plates)
				}
			}
		}
	})
}

// The shortest drop that a post reaches between its ends is had at one depth alone, which rounding must not
// lose.
func TestShortestDropIsReached(t *testing.T) {
	s := Sled{Base: 1, PostIn: 0.4, PostOut: 0.7, Plate: 0.3, Reach: 0.2, Mass: 2, Offset: 0.2, Inertia: 0.26}
	between := 0
	for thousandths := range 251 {
		payload := Load{Mass: 1, Height: 0.05 + float64(thousandths)/1000, Inertia: 0.05}
		shortest, _ := s.Drops(payload, 0)
		if !(shortest < min(s.At(payload, 0, s.PostIn).Drop, s.At(payload, 0, s.PostOut).Drop)) {
			continue
		}
		between++
		if got, ok := s.Within(payload, 0, shortest/2, shortest); !ok || !near(got.Drop, shortest, rounding) {
			t.Errorf("a payload %g m high: got a drop of %g s (%t), want %g", payload.Height, got.Drop, ok, shortest)
		}
	}
	if between < 20 {
		t.Errorf("%d payloads have the shortest drop between the ends of the post, want 20 at least", between)
	}
}

func TestWithinAimsAtTheMiddle(t *testing.T) {
	s := Sled{
		Mass: 1.1, Base: 0.6, Offset: 0.09, Inertia: 0.042, PostIn: 0.24, PostOut: 0.33,
		Plate: 0.06, MaxPlates: 14, Reach: 0.08,
	}
	payload := Load{Mass: 1.7, Height: 0.15}
	for plates := 0; plates <= s.MaxPlates; plates += 2 {
		shortest, longest := s.Drops(payload, plates)
		if got, ok := s.Within(payload, plates, 1.5, 2); ok {
			want := min(max(1.75, shortest), longest)
			if !near(got.Drop, want, 1e-9) {
				t.Errorf("%d plates: got a drop of %g s, want %g", plates, got.Drop, want)
			}
		}
	}
	if _, ok := s.Fewest(payload, 1.5, 2); !ok {
		t.Error("a sled of a usual make cannot be trimmed")
	}
}

func TestUnknownSledIsNotTrimmed(t *testing.T) {
	nan := math.NaN()
	known := Sled{
		Mass: 1.1, Base: 0.6, Offset: 0.09, Inertia: 0.042, PostIn: 0.24, PostOut: 0.33,
		Plate: 0.06, MaxPlates: 14, Reach: 0.08,
	}
	for name, change := range map[string]func(s *Sled, p *Load){
		"mass":            func(s *Sled, _ *Load) { s.Mass = nan },
		"centre":          func(s *Sled, _ *Load) { s.Offset = nan },
		"inertia":         func(s *Sled, _ *Load) { s.Inertia = nan },
		"base":            func(s *Sled, _ *Load) { s.Base = nan },
		"post":            func(s *Sled, _ *Load) { s.PostIn, s.PostOut = nan, nan },
		"payload":         func(_ *Sled, p *Load) { p.Mass = nan },
		"payload height":  func(_ *Sled, p *Load) { p.Height = nan },
		"payload too big": func(_ *Sled, p *Load) { p.Mass = 40 },
	} {
		s, p := known, Load{Mass: 1.7, Height: 0.15}
		change(&s, &p)
		if got, ok := s.Fewest(p, 1.5, 2); ok {
			t.Errorf("%s: got %+v, want no trim", name, got)
		}
		if low, high := s.Reachable(p); !math.IsNaN(low) || !math.IsNaN(high) {
			t.Errorf("%s: got a reach from %g to %g, want none", name, low, high)
		}
	}
}

// A sled without a base that moves and without plates has one drop time.
func TestPostThatMovesNothing(t *testing.T) {
	s := Sled{Mass: 2, Offset: 0.2, Inertia: 0.2, PostIn: 0.3, PostOut: 0.4}
	payload := Load{Mass: 1, Height: 0.1}
	want := s.At(payload, 0, 0.3).Drop
	shortest, longest := s.Drops(payload, 0)
	if shortest != want || longest != want {
		t.Errorf("got %g to %g, want %g only", shortest, longest, want)
	}
	if trim, ok := s.Fewest(payload, want-0.1, want+0.2); !ok || trim.Drop != want {
		t.Errorf("got %+v %t, want a drop of %g", trim, ok, want)
	}
	if _, ok := s.PostFor(payload, 0, want*1.1); ok {
		t.Error("another drop time was reached by a post that moves nothing")
	}
}

func TestTwoDropsTellMomentAndInertia(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		inertia, mass, offset := drawSled(t)
		added := rapid.Float64Range(0.02, 0.5).Draw(t, "added")
		depth := rapid.Float64Range(0.05, 0.5).Draw(t, "depth")
		first := DropTime(inertia, mass, offset)
		second := DropTime(inertia+added*depth*depth, mass+added, (mass*offset+added*depth)/(mass+added))
		moment, gotInertia := FromDrops(first, second, added, depth)
		if second >= first*0.99 {
			t.Skip("the added mass hardly makes it quicker")
		}
		if !near(moment, mass*offset, 1e-6) || !near(gotInertia, inertia, 1e-6) {
			t.Errorf("got %g kg m, %g kg m², want %g, %g", moment, gotInertia, mass*offset, inertia)
		}
	})
	for name, got := range map[string]float64{
		"slower with the mass":  first(FromDrops(1.5, 1.6, 0.1, 0.3)),
		"nothing added":         first(FromDrops(1.6, 1.5, 0, 0.3)),
		"added at the gimbal":   first(FromDrops(1.6, 1.5, 0.1, 0)),
		"times of another rig":  first(FromDrops(0.3, 0.2, 0.1, 3)),
		"a time of nothing":     first(FromDrops(1.6, 0, 0.1, 0.3)),
		"a time without number": first(FromDrops(math.NaN(), 1, 0.1, 0.3)),
	} {
		if !math.IsNaN(got) {
			t.Errorf("%s: got %g, want NaN", name, got)
		}
	}
}

func first(moment, _ float64) float64 { return moment }

// The range of the drop for a post that is off by some millimetres is that of sleds whose parts are
// added up one by one and whose fall is integrated, at many depths.
func TestDropsAroundAPost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, payload := drawRig(t)
		s.Inverted = false
		plates := 2 * rapid.IntRange(0, s.MaxPlates/2).Draw(t, "pairs")
		post := rapid.Float64Range(s.PostIn, s.PostOut).Draw(t, "post")
		off := rapid.Float64Range(0, 0.02).Draw(t, "off")
		shortest, longest := s.DropsAround(payload, plates, post, off)
		const places = 20
		least, most := math.NaN(), math.NaN()
		for i := range places + 1 {
			in, out := max(s.PostIn, post-off), min(s.PostOut, post+off)
			at := in + (out-in)*float64(i)/places
			if i == places {
				at = out
			}
			mass := s.Mass + payload.Mass + float64(plates)*s.Plate
			shift := at - s.PostIn
			moment := s.Mass*s.Offset + s.Base*shift + float64(plates)*s.Plate*at - payload.Mass*payload.Height
			inertia := s.Inertia + s.Base*(at*at-s.PostIn*s.PostIn) + float64(plates)*s.Plate*(at*at+s.Reach*s.Reach) +
				payload.Inertia + payload.Mass*payload.Height*payload.Height
			drop := math.Inf(1)
			if moment > 0 {
				drop = timeToHang(inertia, mass, moment/mass, math.Pi/2)
			}
			if !(drop >= least) {
				least = drop
			}
			if !(drop <= most) {
				most = drop
			}
		}
		if math.IsInf(least, 1) {
			return // top-heavy wherever it is set
		}
		// The drop may be a little shorter between two places.
		if !(shortest <= least*(1+1e-6) && shortest >= least*(1-1e-3)) || math.IsInf(longest, 1) != math.IsInf(most, 1) || !(longest >= most*(1-1e-6)) {
			t.Errorf("got %g to %g s, want %g to %g", shortest, longest, least, most)
		}
	})
}

// On a small sled, whose centre of mass lies some 5 mm below the gimbal, 5 mm of post make a drop
// of 1.75 s one of about 1.5 s to 2.2 s.
func TestFiveMillimetresOfPost(t *testing.T) {
	s := Sled{
		Mass: 1.1, Base: 0.6, Offset: 0.09, Inertia: 0.042, PostIn: 0.24, PostOut: 0.33,
		Plate: 0.06, MaxPlates: 14, Reach: 0.08,
	}
	payload := Load{Mass: 1.73, Height: 0.158, Inertia: 0.004}
	trim, ok := s.Within(payload, 10, 1.5, 2)
	if !ok {
		t.Fatal("it cannot be trimmed")
	}
	shortest, longest := s.DropsAround(payload, trim.Plates, trim.Post, 0.005)
	for _, end := range []struct{ off, got float64 }{{0.005, shortest}, {-0.005, longest}} {
		at := s.At(payload, trim.Plates, trim.Post+end.off)
		if want := timeToHang(at.Inertia, at.Mass, at.Offset, math.Pi/2); !near(end.got, want, 1e-6) {
			t.Errorf("%+g m: got %g s, want %g", end.off, end.got, want)
		}
	}
	if !(shortest > 1.4 && shortest < 1.6 && longest > 2 && longest < 2.5) {
		t.Errorf("got %g s to %g s about %g s, %g mm below", shortest, longest, trim.Drop, trim.Offset*1e3)
	}
}

// Whoever times a sled with a watch that errs finds a moment and an inertia that lie where they are
// said to, and the ends are reached.
func TestDropsWithinAnErrorOfTheWatch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		inertia, mass, offset := drawSled(t)
		added := rapid.Float64Range(0.02, 0.5).Draw(t, "added")
		depth := rapid.Float64Range(0.05, 0.5).Draw(t, "depth")
		off := rapid.Float64Range(0, 0.2).Draw(t, "off")
		// The true times, by integration, and what two watches say of them.
		first := timeToHang(inertia, mass, offset, math.Pi/2)
		second := timeToHang(inertia+added*depth*depth, mass+added, (mass*offset+added*depth)/(mass+added), math.Pi/2)
		errs := func(label string) float64 { return off * rapid.Float64Range(-1, 1).Draw(t, label) }
		moments, inertias := FromDropsWithin(first+errs("first"), second+errs("second"), added, depth, off)
		if math.IsNaN(moments.Low) {
			return // with those errors no sled drops so
		}
		const slack = 1e-4 // the added mass may change the times by next to nothing
		if !(moments.Low <= mass*offset*(1+slack) && moments.High >= mass*offset*(1-slack)) ||
			!(inertias.Low <= inertia*(1+slack) && inertias.High >= inertia*(1-slack)) {
			t.Errorf("got %v kg m and %v kg m², want %g and %g within", moments, inertias, mass*offset, inertia)
		}
	})
	moments, _ := FromDropsWithin(2.2, 1.6, 0.06, 0.3, 0.1)
	for _, end := range []struct{ first, second, got float64 }{{2.3, 1.5, moments.Low}, {2.1, 1.7, moments.High}} {
		if want, _ := FromDrops(end.first, end.second, 0.06, 0.3); !near(end.got, want, 1e-12) {
			t.Errorf("got %g, want the end %g", end.got, want)
		}
	}
}
