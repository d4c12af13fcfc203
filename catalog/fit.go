package catalog

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"strings"
)

// A Fitting says how a lens goes onto a camera and what that changes.
type Fitting struct {
	Adapter   *Adapter // nil when the lens goes on directly
	Factor    float64  // of focal length, f-number, T-number and image circle alike; 1 without glass
	Mass      float64  // added, in kg; NaN when unknown
	Thickness float64  // by which the lens moves forward, in metres; NaN when unknown
	Contacts  bool     // the camera can drive the lens
}

// Stops gives the light lost to the factor, in stops; negative when light is gained.
func (f Fitting) Stops() float64 { return 2 * math.Log2(f.Factor) }

// Fit finds the best way to put a lens on a camera: directly, else with a plain adapter,
// else with an optical one. Among adapters of the same kind it takes one with contacts,
// then the lightest, then the first by name. The error tells an operator why the lens
// does not go on.
func (c *Catalogue) Fit(lens *Lens, camera *Camera) (Fitting, error) {
	if lens.Mount.Value == camera.Mount.Value {
		return Fitting{Factor: 1, Contacts: true}, nil
	}
	var best *Adapter
	var reasons []string
	for _, adapter := range c.Adapters.All() {
		if adapter.From.Lens.Value != lens.Mount.Value || adapter.From.Camera.Value != camera.Mount.Value {
			continue
		}
		if reason := c.refuses(adapter, lens); reason != "" {
			reasons = append(reasons, reason)
			continue
		}
		if best == nil || compareAdapters(adapter, best) < 0 {
			best = adapter
		}
	}
	if best != nil {
		return c.fitting(best), nil
	}
	if reasons == nil {
		return Fitting{}, errors.New(c.noAdapter(lens.Mount.Value, camera.Mount.Value))
	}
	return Fitting{}, errors.New(strings.Join(reasons, "; "))
}

// refuses says why an adapter of the right mounts cannot be used, or gives "".
func (c *Catalogue) refuses(a *Adapter, lens *Lens) string {
	gap := c.gap(a.From.Lens.Value, a.From.Camera.Value)
	switch {
	case !a.IsOptical() && gap <= 0:
		return fmt.Sprintf("with %q it would not focus to infinity: %s", a.Name.Value, c.flanges(a.From.Lens.Value, a.From.Camera.Value))
	case lens.Focus.Value == FocusWire && !a.Contacts.Set:
		return fmt.Sprintf("%q has no contacts, and the lens is focused by wire", a.Name.Value)
	}
	return ""
}

// noAdapter says what is missing between two mounts.
func (c *Catalogue) noAdapter(from, to string) string {
	missing := fmt.Sprintf("the catalogue has no adapter from %q to %q", from, to)
	switch gap := c.gap(from, to); {
	case gap > 0:
		return missing + fmt.Sprintf("; a plain one would be %s thick", millimetres(gap))
	case gap <= 0:
		return missing + ", and a plain one could not focus to infinity: " + c.flanges(from, to)
	}
	return missing
}

// flanges compares the two flange distances in words; both must be known.
func (c *Catalogue) flanges(from, to string) string {
	than := "is shorter than"
	if c.gap(from, to) == 0 {
		than = "is no longer than"
	}
	return fmt.Sprintf("the flange distance of %q, %s, %s the %s of %q",
		from, millimetres(c.flange(from)), than, millimetres(c.flange(to)), to)
}

func millimetres(metres float64) string { return fmt.Sprintf("%.2f mm", metres*1000) }

// gap gives the thickness that a plain adapter must have, in metres: the difference of the
// two flange distances, or NaN when one is unknown. At zero or less, infinity is out of
// reach.
func (c *Catalogue) gap(lensMount, cameraMount string) float64 {
	// The difference is rounded to a tenth of a micrometre, far below what is machined,
	// so that equal figures written in different units are equal.
	return math.Round((c.flange(lensMount)-c.flange(cameraMount))*1e7) / 1e7
}

// flange gives the flange distance of a mount, or NaN.
func (c *Catalogue) flange(mount string) float64 {
	if m, ok := c.Mounts.Lookup(mount); ok {
		return m.Flange.OrNaN()
	}
	return math.NaN()
}

func (c *Catalogue) fitting(a *Adapter) Fitting {
	f := Fitting{
		Adapter: a, Factor: 1,
		Mass: a.Mass.OrNaN(), Thickness: a.Thickness.OrNaN(), Contacts: a.Contacts.Set,
	}
	if a.IsOptical() {
		f.Factor = a.Factor.Value
	} else if !a.Thickness.Known() {
		f.Thickness = c.gap(a.From.Lens.Value, a.From.Camera.Value)
	}
	return f
}

// compareAdapters orders usable adapters, the better one first.
func compareAdapters(a, b *Adapter) int {
	return cmp.Or(
		compareTruth(a.IsOptical(), b.IsOptical()),
		compareTruth(!a.Contacts.Set, !b.Contacts.Set),
		cmp.Compare(a.Mass.Or(math.Inf(1)), b.Mass.Or(math.Inf(1))),
		strings.Compare(a.Name.Value, b.Name.Value),
	)
}

// compareTruth orders false before true.
func compareTruth(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}
