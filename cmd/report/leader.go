package report

import (
	"fmt"
	"html"
	"io"
	"math"
	"strings"

	"glassbrief/engine/brief"
	"glassbrief/engine/framelist"
)

// Colours of a leader. The delivered frame alone is white.
const (
	leaderGround    = "#202020"
	leaderFrame     = "#ffffff"
	leaderProtected = "#ffd800"
	leaderOther     = "#68b8ff"
	leaderQuiet     = "#909090"
)

// Leader draws a canvas to be put before the camera's pictures: an SVG of exactly its pixels, in
// which the outer edges of the frames lie on the borders of pixels. A squeezed canvas is drawn as
// it is recorded, or as it looks when it is desqueezed.
func Leader(to io.Writer, title string, f *brief.FramingList, canvas *framelist.Canvas, desqueezed bool) error {
	l := leader{size: canvas.Size, layers: canvas.Layers}
	if desqueezed {
		l.layers = canvas.Desqueezed
		l.size = canvas.Desqueezed(&framelist.Decision{}).Canvas
	}
	l.line = max(1, math.Round(l.size.Width/1000))
	w, h := l.size.Width, l.size.Height
	fmt.Fprintf(&l.text, `<svg xmlns="http://www.w3.org/2000/svg" width="%v" height="%v" viewBox="0 0 %v %v" shape-rendering="crispEdges">`+"\n<title>%s</title>\n", w, h, w, h, html.EscapeString(title))
	fmt.Fprintf(&l.text, `<rect width="%v" height="%v" fill="%s"/>`+"\n", w, h, leaderGround)
	if e := l.layers(&framelist.Decision{}).Inner[framelist.EffectiveLayer]; e.Known() {
		l.outline(e, leaderQuiet, "effective", true)
	}
	judged := canvas.Decision(f.Intent)
	for i := range canvas.Decisions {
		if d := &canvas.Decisions[i]; d != judged {
			l.outline(l.layers(d).Inner[framelist.FramingLayer], leaderOther, d.ID, false)
		}
	}
	l.cross()
	if judged != nil {
		inner := l.layers(judged).Inner
		if p := inner[framelist.ProtectionLayer]; p.Known() {
			l.outline(p, leaderProtected, "protection", false)
		}
		l.outline(inner[framelist.FramingLayer], leaderFrame, judged.ID, false)
		l.words(inner[framelist.FramingLayer], f, title, canvas, judged)
	}
	l.text.WriteString("</svg>\n")
	_, err := io.WriteString(to, l.text.String())
	return err
}

// leader is a drawing under way.
type leader struct {
	size   framelist.Size
	layers func(d *framelist.Decision) framelist.Layers
	line   float64 // width of lines in pixels
	text   strings.Builder
}

// outline draws an area whose outer edges are the nearest borders of pixels.
func (l *leader) outline(a framelist.Area, colour, name string, dashed bool) {
	left, top := math.RoundToEven(a.X), math.RoundToEven(a.Y)
	right, bottom := math.RoundToEven(a.X+a.Width), math.RoundToEven(a.Y+a.Height)
	dashes := ""
	if dashed {
		dashes = fmt.Sprintf(` stroke-dasharray="%v %v"`, 8*l.line, 6*l.line)
	}
	fmt.Fprintf(&l.text, `<rect id="%s" x="%v" y="%v" width="%v" height="%v" fill="none" stroke="%s" stroke-width="%v"%s/>`+"\n",
		html.EscapeString(name), left+l.line/2, top+l.line/2, right-left-l.line, bottom-top-l.line, colour, l.line, dashes)
}

// cross marks the middle of the canvas, where the axis of the lens is.
func (l *leader) cross() {
	x, y, arm := l.size.Width/2, l.size.Height/2, math.Round(l.size.Height/30)
	fmt.Fprintf(&l.text, `<path d="M%v %vH%vM%v %vV%v" fill="none" stroke="%s" stroke-width="%v"/>`+"\n", x-arm, y, x+arm, x, y-arm, y+arm, leaderQuiet, l.line)
}

// words writes names and sizes in pixels inside the frame.
func (l *leader) words(frame framelist.Area, f *brief.FramingList, title string, canvas *framelist.Canvas, judged *framelist.Decision) {
	recorded := fmt.Sprintf("%s: %v", title, canvas.Size)
	if canvas.Squeeze != 1 {
		recorded += fmt.Sprintf(", squeezed %v times", canvas.Squeeze)
	}
	lines := []struct{ colour, words string }{{leaderQuiet, recorded}}
	say := func(colour string, d *framelist.Decision) {
		name := d.Label
		if intent := f.List.Intent(d.Intent); name == "" && intent != nil {
			name = brief.ShownRatio(intent.Ratio)
		}
		lines = append(lines, struct{ colour, words string }{colour, fmt.Sprintf("%s: %v", name, d.Frame)})
	}
	say(leaderFrame, judged)
	if judged.Protected.Known() {
		lines = append(lines, struct{ colour, words string }{leaderProtected, fmt.Sprintf("protected: %v", judged.Protected)})
	}
	for i := range canvas.Decisions {
		if d := &canvas.Decisions[i]; d != judged {
			say(leaderOther, d)
		}
	}
	longest := 0
	for _, line := range lines {
		longest = max(longest, len([]rune(line.words)))
	}
	// A letter is about 0.6 of its size wide.
	size := math.Floor(min(l.size.Width/60, frame.Height/2/(1.4*float64(len(lines)+1)), frame.Width*0.9/0.6/float64(longest)))
	for i, line := range lines {
		fmt.Fprintf(&l.text, `<text x="%v" y="%v" font-family="monospace" font-size="%v" fill="%s">%s</text>`+"\n",
			math.Round(frame.X+size), math.Round(frame.Y+size*(1.6+1.4*float64(i))), max(size, 1), line.colour, html.EscapeString(line.words))
	}
}
