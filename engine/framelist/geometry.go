package framelist

import "math"

// The areas that lie in a canvas, from the outside in.
const (
	EffectiveLayer = iota
	ProtectionLayer
	FramingLayer
	layers
)

// Layers are a canvas and the areas that lie in it. A size of 0 is none.
type Layers struct {
	Canvas Size
	Inner  [layers]Area
}

// Layers gives the areas of a decision in its canvas.
func (c *Canvas) Layers(d *Decision) Layers {
	return Layers{Canvas: c.Size, Inner: [layers]Area{c.Effective, d.Protected, d.Frame}}
}

// Pick gives the area that a template names, as "framing_decision.dimensions", and whether it is
// the name of one.
func (l Layers) Pick(path string) (Area, bool) {
	switch path {
	case "canvas.dimensions":
		return Area{Size: l.Canvas}, true
	case "canvas.effective_dimensions":
		return l.Inner[EffectiveLayer], true
	case "framing_decision.protection_dimensions":
		return l.Inner[ProtectionLayer], true
	case "framing_decision.dimensions":
		return l.Inner[FramingLayer], true
	}
	return Area{}, false
}

// Fill gives canvas and effective area the size of the outermost area there is where they
// have none, and counts all places from an offset. What is not protected stays so.
func (l Layers) Fill(offset Point) Layers {
	outermost := Area{Size: l.Canvas}
	for _, a := range l.Inner {
		if !outermost.Known() {
			outermost = a
		}
	}
	l.Canvas = outermost.Size
	if !l.Inner[EffectiveLayer].Known() {
		l.Inner[EffectiveLayer] = outermost
	}
	filled, _ := l.Shift(Point{-offset.X, -offset.Y})
	return filled
}

// Scale desqueezes all areas, scales them, and squeezes them for a target.
func (l Layers) Scale(squeeze, scale, target float64) Layers {
	across := squeeze * scale / target
	l.Canvas = Size{l.Canvas.Width * across, l.Canvas.Height * scale}
	for i, a := range l.Inner {
		l.Inner[i] = Area{Point{a.X * across, a.Y * scale}, Size{a.Width * across, a.Height * scale}}
	}
	return l
}

// Round rounds the canvas, shares the change out to both sides of all that lies in it, and takes
// the effective area up to whole pixels about its middle; the rest stays fractions.
//
// Source: specification 2.0.1, 7.4.12.
func (l Layers) Round(r Rounding) Layers {
	whole := Size{r.Of(l.Canvas.Width), r.Of(l.Canvas.Height)}
	dx, dy := (whole.Width-l.Canvas.Width)/2, (whole.Height-l.Canvas.Height)/2
	l.Canvas = whole
	for i := range l.Inner {
		l.Inner[i].X += dx
		l.Inner[i].Y += dy
	}
	up, effective := Rounding{Mode: Up}, &l.Inner[EffectiveLayer]
	*effective = effective.middle(Size{up.Of(effective.Width), up.Of(effective.Height)})
	return l
}

// Shift moves all areas in the canvas. The places beside are those before what lies left of or
// above the canvas is taken to its edge.
func (l Layers) Shift(by Point) (shifted Layers, places [layers]Point) {
	for i := range l.Inner {
		a := &l.Inner[i]
		places[i] = Point{a.X + by.X, a.Y + by.Y}
		a.Point = Point{max(places[i].X, 0), max(places[i].Y, 0)}
	}
	return l, places
}

// Crop takes off what lies outside the canvas: to the left and above by the places of
// [Layers.Shift], to the right and below by those of the areas.
func (l Layers) Crop(places [layers]Point) Layers {
	for i := range l.Inner {
		a := &l.Inner[i]
		a.Width = max(0, min(a.Width+min(places[i].X, 0), l.Canvas.Width-a.X))
		a.Height = max(0, min(a.Height+min(places[i].Y, 0), l.Canvas.Height-a.Y))
	}
	return l
}

// Desqueezed gives the areas of a decision as they look, with square pixels, in a canvas of whole
// pixels.
func (c *Canvas) Desqueezed(d *Decision) Layers {
	return c.Layers(d).Scale(c.Squeeze, 1, 1).Round(Rounding{Mode: Nearest})
}

// WholeRatio gives a ratio as whole numbers: 2.39 to 1 is 239 to 100. Both are above zero and
// have at most six digits behind the point.
func WholeRatio(over, under float64) Size {
	factor := 1.0
	for factor < 1e6 && !(isWhole(over*factor) && isWhole(under*factor)) {
		factor *= 10
	}
	return Size{math.Round(over * factor), math.Round(under * factor)}
}

func isWhole(x float64) bool { return math.Abs(x-math.Round(x)) <= nearlyWhole*max(1, math.Abs(x)) }

// SameAs reports whether two ratios of whole numbers are the same.
func (s Size) SameAs(other Size) bool { return s.Width*other.Height == other.Width*s.Height }
