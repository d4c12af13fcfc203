package balance

import "math"

// A Sled is a stabiliser without camera and plates. Its post is drawn out or pushed in,
// and its base, which goes with the post, takes plates: half before the post and half
// behind. Left to itself, it hangs plumb.
type Sled struct {
	Mass      float64 // kg
	Base      float64 // part of the mass that goes with the post, kg; its centre at the plates
	Offset    float64 // of the centre of mass below the gimbal, the post pushed in, m
	Inertia   float64 // about the gimbal's axis of tilt, the post pushed in, kg m²
	PostIn    float64 // depth of the plates below the gimbal, the post pushed in, m
	PostOut   float64 // the same, the post drawn out
	Plate     float64 // mass of one plate, kg
	MaxPlates int
	Reach     float64 // of the plates before and behind the post, m
	Inverted  bool    // flown upside down, the camera hanging below: low mode
}

// A Trim is a state of a sled with a payload that stands with its centre of mass over the
// post.
type Trim struct {
	Plates  int
	Post    float64 // depth of the plates from the gimbal, m
	Mass    float64 // of everything that hangs in the gimbal, kg
	Offset  float64 // of the common centre of mass below the gimbal, m; negative when top-heavy
	Inertia float64 // about the gimbal's axis of tilt, kg m²
	Drop    float64 // seconds; NaN when top-heavy
}

// At gives the trim with so many plates and the post at a depth. The payload's height
// counts from the gimbal to the stage's side, upright or not.
func (s Sled) At(payload Load, plates int, post float64) Trim {
	rest, inertia, perDepth := s.terms(payload, plates)
	mass := s.Mass + payload.Mass + float64(plates)*s.Plate
	t := Trim{
		Plates: plates, Post: post, Mass: mass,
		Offset:  s.down() * (rest + perDepth*post) / mass,
		Inertia: inertia + perDepth*post*post,
	}
	t.Drop = DropTime(t.Inertia, t.Mass, t.Offset)
	return t
}

// terms gives what the moment and the inertia about the gimbal are made of, with the
// post at a depth p: rest + perDepth p, towards the base, and inertia + perDepth p².
func (s Sled) terms(payload Load, plates int) (rest, inertia, perDepth float64) {
	perDepth = s.Base + float64(plates)*s.Plate
	rest = s.Mass*s.Offset - s.Base*s.PostIn - payload.Mass*payload.Height
	inertia = s.Inertia - s.Base*s.PostIn*s.PostIn + float64(plates)*s.Plate*s.Reach*s.Reach +
		payload.Inertia + payload.Mass*payload.Height*payload.Height
	return rest, inertia, perDepth
}

// down is 1 when the base hangs below the gimbal, and -1 when the payload does.
func (s Sled) down() float64 {
	if s.Inverted {
		return -1
	}
	return 1
}

// PostFor solves [Sled.At] for the depth of the post that gives a drop time with so many
// plates, and tells whether there is one. Of two it gives the shorter.
func (s Sled) PostFor(payload Load, plates int, drop float64) (post float64, ok bool) {
	rest, inertia, perDepth := s.terms(payload, plates)
	if perDepth == 0 {
		return s.PostIn, same(s.At(payload, plates, s.PostIn).Drop, drop)
	}
	// inertia + perDepth p² = reach (rest + perDepth p), a quadratic in p.
	reach := s.down() * perOffset(drop)
	product := (inertia - reach*rest) / perDepth
	apart := reach*reach - 4*product // the square of how far the roots lie apart
	if apart < 0 && apart >= -rounding*reach*reach {
		apart = 0 // the shortest drop of all, which one depth gives
	}
	// The root in which nothing cancels gives the other by their product.
	sure := (reach + math.Copysign(math.Sqrt(apart), reach)) / 2
	one, other := product/sure, sure
	for _, p := range [...]float64{min(one, other), max(one, other)} {
		if s.reaches(p) && s.down()*(rest+perDepth*p) > 0 {
			return min(max(p, s.PostIn), s.PostOut), true
		}
	}
	return math.NaN(), false
}

// rounding is by how much a solved value may miss the end of a range.
const rounding = 1e-9

func (s Sled) reaches(post float64) bool {
	return post >= s.PostIn*(1-rounding) && post <= s.PostOut*(1+rounding)
}

func same(got, want float64) bool { return math.Abs(got/want-1) <= rounding }

// Drops gives the shortest and the longest drop time that the post reaches with so many
// plates; the longest is +Inf when the sled can be made neutral. Both are NaN when it
// stays top-heavy.
func (s Sled) Drops(payload Load, plates int) (shortest, longest float64) {
	return s.dropsBetween(payload, plates, s.PostIn, s.PostOut)
}

// DropsAround is [Sled.Drops] for a post that is set to a depth and may be off by so much
// either way, but never beyond its reach. The longest is +Inf where the sled may then be
// neutral or top-heavy.
func (s Sled) DropsAround(payload Load, plates int, post, off float64) (shortest, longest float64) {
	return s.dropsBetween(payload, plates, max(s.PostIn, post-off), min(s.PostOut, post+off))
}

func (s Sled) dropsBetween(payload Load, plates int, in, out float64) (shortest, longest float64) {
	shortest, longest = math.Inf(1), math.Inf(-1)
	rest, inertia, perDepth := s.terms(payload, plates)
	// The drop is shortest where the post gives the most moment for its inertia.
	best := (math.Sqrt(rest*rest+perDepth*inertia) - rest) / perDepth
	if !(best > in) { // also when the post changes nothing
		best = in
	}
	topHeavy := 0
	for _, post := range [...]float64{in, min(best, out), out} {
		drop := s.At(payload, plates, post).Drop
		if math.IsNaN(drop) {
			topHeavy++
			continue
		}
		shortest, longest = min(shortest, drop), max(longest, drop)
	}
	switch {
	case math.IsInf(shortest, 1):
		return math.NaN(), math.NaN()
	case topHeavy > 0:
		longest = math.Inf(1)
	}
	return shortest, longest
}

// Reachable gives the shortest and the longest drop time over all that plates and post
// can do. Both are NaN when the sled stays top-heavy whatever is done, and when anything
// about it is unknown.
func (s Sled) Reachable(payload Load) (shortest, longest float64) {
	shortest, longest = math.NaN(), math.NaN()
	for plates := 0; plates <= s.MaxPlates; plates += 2 {
		low, high := s.Drops(payload, plates)
		if math.IsNaN(low) {
			continue
		}
		if math.IsNaN(shortest) {
			shortest, longest = low, high
		}
		shortest, longest = min(shortest, low), max(longest, high)
	}
	return shortest, longest
}

// Within gives the trim with so many plates whose drop time lies in a window, as near
// its middle as the post reaches, and tells whether there is one.
func (s Sled) Within(payload Load, plates int, low, high float64) (Trim, bool) {
	shortest, longest := s.Drops(payload, plates)
	if !(shortest <= high && longest >= low) {
		return Trim{}, false
	}
	drop := min(max((low+high)/2, shortest), longest)
	post, ok := s.PostFor(payload, plates, drop)
	return s.At(payload, plates, post), ok
}

// Fewest gives the trim with the fewest plates whose drop time lies in a window, for that
// is the lightest, and tells whether there is one.
func (s Sled) Fewest(payload Load, low, high float64) (Trim, bool) {
	for plates := 0; plates <= s.MaxPlates; plates += 2 {
		if trim, ok := s.Within(payload, plates, low, high); ok {
			return trim, true
		}
	}
	return Trim{}, false
}
