package catalog

import (
	"fmt"
	"slices"

	"glassbrief/lang"
)

// A Camera is one camera body, as it goes on the rig without lens and accessories.
// Positions of its parts are along the optical axis from the flange of its mount, and
// upwards from its base, where it is bolted to the stage.
type Camera struct {
	// Name, unique in the catalogue.
	Name lang.Text `lang:",label"`
	// Remarks for people.
	About lang.Text `lang:"about" absent:""`
	// Name of its mount.
	Mount lang.Text `lang:"mount,required"`
	// The parts of the sensor that can be recorded, each with its size, and a remark if
	// it needs one; the first is the one used unless a scenario says otherwise.
	Modes []Mode `lang:"mode,required"`
	// Base ISO; two or more of a camera that has them, as "800 or 4000".
	ISO lang.List `lang:"iso,dim=plain"`
	// Lowest and highest ISO that give a usable picture.
	ISORange lang.Interval `lang:"iso_range,dim=plain,rough"`
	// Strengths of the neutral filters that are built in, as "2, 4, 6 stops".
	BuiltInND lang.List `lang:"built_in_nd,dim=stops" absent:"none"`
	// The camera can focus a lens that can be driven.
	Autofocus lang.Flag `lang:"autofocus" absent:"no"`
	// Mass with its own battery and card.
	Mass lang.Quantity `lang:"mass,dim=mass,rough"`
	// Length from the mount's flange to the back.
	Length lang.Quantity `lang:"length,dim=length,rough"`
	// Distance of its centre of mass behind the mount's flange.
	Balance lang.Quantity `lang:"balance,dim=length,rough"`
	// Height of its centre of mass above its base.
	BalanceHeight lang.Quantity `lang:"balance_height,dim=length,rough"`
	// Height of the optical axis above its base.
	AxisHeight lang.Quantity `lang:"axis_height,dim=length,rough"`
	// The place of the keyword.
	Span lang.Span `lang:",span"`
}

// A Mode is a part of the sensor that can be recorded.
type Mode struct {
	// Name, unique in the camera.
	Name lang.Text `lang:",label"`
	// Width and height on the sensor.
	Size lang.Size `lang:",label,dim=length"`
	// Remark for people.
	Note lang.Text `lang:",label,optional"`
	// The place of the keyword.
	Span lang.Span `lang:",span"`
}

// Mode gives the mode of a name, the first mode for an empty name, or nil.
func (c *Camera) Mode(name string) *Mode {
	for i := range c.Modes {
		if name == "" || c.Modes[i].Name.Value == name {
			return &c.Modes[i]
		}
	}
	return nil
}

// ModeNames lists the names of the modes in order.
func (c *Camera) ModeNames() []string {
	names := make([]string, len(c.Modes))
	for i := range c.Modes {
		names[i] = c.Modes[i].Name.Value
	}
	return names
}

// BaseISOs gives the base ISOs from the lowest to the highest; none when they are not known.
func (c *Camera) BaseISOs() []float64 { return slices.Sorted(slices.Values(c.ISO.Values())) }

// LowestBase gives the lowest base ISO.
func (c *Camera) LowestBase() (lowest lang.Quantity) {
	for _, base := range c.ISO.Items {
		if !lowest.Known() || base.Value < lowest.Value {
			lowest = base
		}
	}
	return lowest
}

// BuiltInNDs gives the strengths of the built-in neutral filters in stops, the weakest first.
func (c *Camera) BuiltInNDs() []float64 { return slices.Sorted(slices.Values(c.BuiltInND.Values())) }

// Known reports whether the mode's size is known.
func (m Mode) Known() bool { return m.Size.Known() }

// Show writes the mode for people.
func (m Mode) Show(p lang.Printer) string {
	text := fmt.Sprintf("%s, %s x %s", m.Name.Value,
		p.Quantity(m.Size.Width.Value, m.Size.Width.Unit), p.Quantity(m.Size.Height.Value, m.Size.Height.Unit))
	if m.Note.Value != "" {
		text += ", " + m.Note.Value
	}
	return text
}
