package catalog

import (
	"glassbrief/lang"
)

// A Mount is a way to fix a lens to a camera.
type Mount struct {
	// Name, unique in the catalogue.
	Name lang.Text `lang:",label"`
	// Remarks for people.
	About lang.Text `lang:"about" absent:""`
	// Distance from the flange to the sensor.
	Flange lang.Quantity `lang:"flange,dim=length,rough,usual=5mm..150mm,possible=0.1mm..2m"`
	// Inner diameter.
	Throat lang.Quantity `lang:"throat,dim=length,rough,usual=10mm..150mm,possible=1mm..2m"`
	// The place of the keyword.
	Span lang.Span `lang:",span"`
}

// An Adapter fixes a lens of one mount to a camera of another. One with glass in it also
// changes the focal length: a reducer shortens it, an extender lengthens it.
type Adapter struct {
	// Name, unique in the catalogue.
	Name lang.Text `lang:",label"`
	// Remarks for people.
	About lang.Text `lang:"about" absent:""`
	// The mount of the lens and that of the camera: from "lens mount" to "camera mount".
	From Route `lang:"from,required,own"`
	// Length that it puts between the two flanges. For an adapter without glass it is the
	// difference of the flange distances unless given.
	Thickness lang.Quantity `lang:"thickness,dim=length,rough,usual=0.5mm..200mm,possible=0.01mm..2m"`
	// Factor by which its glass changes the focal length, as 0.71. An adapter without the
	// line has no glass.
	Factor lang.Ratio `lang:"factor,usual=0.5..3,possible=0.05..20" absent:"none"`
	// It connects the lens to the camera, so that the camera can drive focus and iris.
	Contacts lang.Flag `lang:"contacts" absent:"no"`
	// Mass.
	Mass lang.Quantity `lang:"mass,dim=mass,rough,usual=5g..2kg,possible=0.1g..100kg"`
	// The place of the keyword.
	Span lang.Span `lang:",span"`
}

// IsOptical reports whether the adapter has glass in it.
func (a *Adapter) IsOptical() bool { return a.Factor.Known() }

// A Route says which lenses an adapter takes to which cameras, by the names of mounts.
type Route struct {
	Lens, Camera lang.Text
}

// DecodeArgs reads the values of "from".
func (r *Route) DecodeArgs(args *lang.Args) {
	r.Lens = args.Text()
	args.Word("to")
	r.Camera = args.Text()
}

// Known reports whether the route was given.
func (r Route) Known() bool { return r.Camera.Value != "" }

// Show writes the route for people.
func (r Route) Show(lang.Printer) string { return r.Lens.Value + " to " + r.Camera.Value }
