package audit

import (
	"cmp"
	"slices"

	"glassbrief/catalog"
)

// Holds reports whether a lens is among those hired.
func (h *Hire) Holds(lens string) bool {
	return slices.ContainsFunc(h.Lenses, func(o Offer) bool { return o.Lens == lens })
}

// An OfferFor is a lens for hire with what it does of the shots that fail.
type OfferFor struct {
	Offer
	Shots []string
}

// Offers lists the lenses for hire that do any shot that fails: those that do most first,
// and of these the cheapest.
func (r *Answer) Offers() []OfferFor {
	var all []OfferFor
	for i := range r.Shots {
		for _, offer := range r.Shots[i].Hire {
			at := slices.IndexFunc(all, func(o OfferFor) bool { return o.Lens == offer.Lens })
			if at < 0 {
				at, all = len(all), append(all, OfferFor{Offer: offer})
			}
			all[at].Shots = append(all[at].Shots, r.Shots[i].Shot.ID)
		}
	}
	slices.SortStableFunc(all, func(a, b OfferFor) int {
		return cmp.Or(cmp.Compare(len(b.Shots), len(a.Shots)), cheaper(a.Offer, b.Offer))
	})
	return all
}

// IDs names the shots at some places.
func (r *Answer) IDs(places []int) []string {
	ids := make([]string, len(places))
	for i, at := range places {
		ids[i] = r.Shots[at].Shot.ID
	}
	return ids
}

// Apart reports whether the edges of a specification depend on each other.
func (r *Answer) Apart() bool {
	return slices.ContainsFunc(r.Specifications, func(s Specification) bool { return s.Apart })
}

// Mounts lists the mounts of the catalogue whose lenses go onto the camera, its own first.
func (r *Answer) Mounts() []string {
	mounts := []string{r.Camera.Mount.Value}
	for _, mount := range r.Scenario.Catalogue.Mounts.All() {
		lens := &catalog.Lens{Mount: mount.Name}
		if _, err := r.Scenario.Catalogue.Fit(lens, r.Camera); err == nil && mount.Name.Value != mounts[0] {
			mounts = append(mounts, mount.Name.Value)
		}
	}
	return mounts
}
