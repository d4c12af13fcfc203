package engine

import "glassbrief/lang"

// Accessories is what the rig carries beside camera and lens, as "accessories 350g", or
// with the place of its centre of mass, behind the flange and above the camera's base:
// "accessories 350g 60mm x 120mm". Its zero value is no accessories.
type Accessories struct {
	Mass          float64       // kg
	Behind, Above lang.Quantity // unknown unless given
}

// DecodeArgs reads the values of "accessories".
func (a *Accessories) DecodeArgs(args *lang.Args) {
	mass := args.Quantity(lang.Mass)
	a.Mass = mass.Or(0)
	if mass.Known() && mass.Value < 0 {
		args.Report(lang.Diagnostic{
			Severity: lang.Error, Code: lang.OutOfRange, Span: mass.Span,
			Summary: "accessories weigh more than nothing", Detail: "Write their mass together, or leave the line out.",
		})
	}
	if args.More() && !args.Failed() {
		place := args.Size(lang.Length)
		a.Behind, a.Above = place.Width, place.Height
	}
}

// Placed reports whether it is known where the centre of mass is; that of nothing always is.
func (a Accessories) Placed() bool { return a.Mass == 0 || a.Behind.Known() && a.Above.Known() }
