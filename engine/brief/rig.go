package brief

import (
	"fmt"

	"glassbrief/catalog"
	"glassbrief/lang"
)

// checkPayload reports a rig of which nobody says how much it takes: nothing stands in for
// that, and it decides which lenses can come at all.
func (l *loader) checkPayload(rig *catalog.Rig) {
	if rig == nil || rig.Payload.High.Known() {
		return
	}
	span := rig.Payload.Span
	if !span.Known() {
		span = rig.Name.Span
	}
	l.report(lang.Diagnostic{
		Severity: lang.Error, Code: lang.MissingField, Span: span,
		Summary: fmt.Sprintf("the rig %q does not say how much it takes", rig.Name.Value),
		Detail: "Write the most that its stage takes in its block, as \"payload ..3kg\", or with the least, as \"payload 0.9kg..3kg\". " +
			"Its manual says it; or add weight to the stage until the rig no longer trims, and put what stands on the stage on a scale.",
	})
}

// Accessories is what the rig carries beside camera and lens, as "accessories 350g", or
// with the place of its centre of mass, behind the flange and above the camera's base:
// "accessories 350g 60mm x 120mm". Its zero value is no accessories.
type Accessories struct {
	Mass          float64       // kg
	Behind, Above lang.Quantity // unknown unless given
}

// DecodeArgs reads the values of "accessories".
func (a *Accessories) DecodeArgs(args *lang.Args) {
	a.Mass = args.Quantity(lang.Mass).Or(0)
	if args.More() && !args.Failed() {
		place := args.Size(lang.Length)
		a.Behind, a.Above = place.Width, place.Height
	}
}

// Placed reports whether it is known where the centre of mass is; that of nothing always is.
func (a Accessories) Placed() bool { return a.Mass == 0 || a.Behind.Known() && a.Above.Known() }

// A DropWindow is what the drop time of a rig is trimmed to, in seconds.
type DropWindow struct{ Low, High float64 }

// UsualDrop is the drop time of a sled that is balanced for handheld work; common
// practice, no published source.
var UsualDrop = DropWindow{Low: 1.5, High: 2}

// drop gives the window of the drop time, the usual one where an end is not given.
func (l *loader) drop(i lang.Interval) DropWindow {
	return DropWindow{Low: i.Low.Or(min(UsualDrop.Low, i.High.Or(UsualDrop.Low))), High: i.High.Or(max(UsualDrop.High, i.Low.Or(UsualDrop.High)))}
}
