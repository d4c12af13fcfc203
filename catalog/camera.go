package catalog

import (
	"fmt"
	"math"
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
	// The parts of the sensor that can be recorded, each with its size, the pixels that are
	// recorded of it where they matter, and a remark if it needs one, as "mode "Open gate"
	// 36.7mm x 25.54mm 4448 x 3096"; the first is the one used unless a scenario says
	// otherwise.
	Modes []Mode `lang:"mode,required"`
	// Base ISO; two or more of a camera that has them, as "800 or 4000".
	ISO lang.List `lang:"iso,dim=plain,usual=25..20000,possible=1..10000000"`
	// Lowest and highest ISO that give a usable picture.
	ISORange lang.Interval `lang:"iso_range,dim=plain,rough,usual=25..1000000,possible=1..100000000"`
	// Strengths of the neutral filters that are built in, as "2, 4, 6 stops".
	BuiltInND lang.List `lang:"built_in_nd,dim=stops,usual=1/3 stops..12 stops,possible=0.01 stops..60 stops" absent:"none"`
	// The camera can focus a lens that can be driven.
	Autofocus lang.Flag `lang:"autofocus" absent:"no"`
	// Mass with its own battery and card.
	Mass lang.Quantity `lang:"mass,dim=mass,rough,usual=30g..15kg,possible=1g..200kg"`
	// Length from the mount's flange to the back.
	Length lang.Quantity `lang:"length,dim=length,rough,usual=10mm..600mm,possible=1mm..10m"`
	// Distance of its centre of mass behind the mount's flange.
	Balance lang.Quantity `lang:"balance,dim=length,rough,usual=-50mm..400mm,possible=-1m..5m"`
	// Height of its centre of mass above its base.
	BalanceHeight lang.Quantity `lang:"balance_height,dim=length,rough,usual=10mm..200mm,possible=1mm..2m"`
	// Height of the optical axis above its base.
	AxisHeight lang.Quantity `lang:"axis_height,dim=length,rough,usual=10mm..200mm,possible=1mm..2m"`
	// The place of the keyword.
	Span lang.Span `lang:",span"`
}

// A Mode is a part of the sensor that can be recorded.
type Mode struct {
	// Name, unique in the camera.
	Name lang.Text `lang:",label"`
	// Width and height on the sensor.
	Size lang.Size `lang:",label,dim=length,usual=2mm..80mm,possible=0.1mm..1m"`
	// Width and height in pixels as recorded, which an anamorphic lens squeezes.
	Pixels Pixels `lang:",label,optional,own"`
	// Remark for people.
	Note lang.Text `lang:",label,optional"`
	// The place of the keyword.
	Span lang.Span `lang:",span"`
}

// Pixels is a size in pixels. Its zero value is unknown.
type Pixels struct {
	Width, Height float64
	Span          lang.Span
}

// maxPixels is far beyond what any camera records along one side.
const maxPixels = 1 << 16

// DecodeArgs reads the pixels of a mode, where they stand before its remark.
func (p *Pixels) DecodeArgs(args *lang.Args) {
	if args.PeekForm() != lang.SizeOf {
		return
	}
	size := args.Size(lang.Plain)
	if args.Failed() {
		return
	}
	whole := func(q lang.Quantity) bool {
		return q.Value >= 1 && q.Value <= maxPixels && q.Value == math.Trunc(q.Value)
	}
	if !whole(size.Width) || !whole(size.Height) || size.Depth.Known() {
		args.Report(lang.Diagnostic{
			Severity: lang.Error, Code: lang.OutOfRange, Span: size.Span,
			Summary: fmt.Sprintf("%q is no size in pixels", size.Span.Text()),
			Detail:  fmt.Sprintf("Write two whole numbers from 1 to %d, as \"4448 x 3096\".", maxPixels),
		})
		return
	}
	*p = Pixels{size.Width.Value, size.Height.Value, size.Span}
}

// Known reports whether the size is known.
func (p Pixels) Known() bool { return p.Width > 0 }

// String gives the size as a file has it.
func (p Pixels) String() string { return fmt.Sprintf("%v x %v", p.Width, p.Height) }

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
	if m.Pixels.Known() {
		text += ", " + m.Pixels.String() + " pixels"
	}
	if m.Note.Value != "" {
		text += ", " + m.Note.Value
	}
	return text
}
