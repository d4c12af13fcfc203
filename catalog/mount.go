package catalog

import "glassbrief/lang"

// A Mount is a way to fix a lens to a camera.
type Mount struct {
	// Name, unique in the catalogue.
	Name lang.Text `lang:",label"`
	// Remarks for people.
	About lang.Text `lang:"about" absent:""`
	// Distance from the flange to the sensor.
	Flange lang.Quantity `lang:"flange,dim=length"`
	// Inner diameter.
	Throat lang.Quantity `lang:"throat,dim=length"`
	// The place of the keyword.
	Span lang.Span `lang:",span"`
}
