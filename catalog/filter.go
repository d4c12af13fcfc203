package catalog

import "glassbrief/lang"

// The words for kinds of filter.
const (
	FilterND        = "nd"
	FilterDiffusion = "diffusion"
	FilterPolar     = "polar"
)

// A Filter screws onto the front of a lens.
type Filter struct {
	// Name, unique in the catalogue.
	Name lang.Text `lang:",label"`
	// Remarks for people.
	About lang.Text `lang:"about" absent:""`
	// What it is for: nd takes light away, diffusion softens, polar takes reflections away.
	Kind lang.Word `lang:"kind,required,words=nd|diffusion|polar"`
	// Thread that it screws into.
	Thread lang.Quantity `lang:"thread,required,dim=length"`
	// Light that it takes away; an interval for one that can be turned.
	Strength lang.Interval `lang:"strength,dim=stops"`
	// Mass.
	Mass lang.Quantity `lang:"mass,dim=mass"`
	// The place of the keyword.
	Span lang.Span `lang:",span"`
}
