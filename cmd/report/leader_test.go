package report

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"glassbrief/cmd/browsertest"
	"glassbrief/engine/brief"
	"glassbrief/engine/framelist"

	"pgregory.net/rapid"
)

// extent gives the first and the last column and row, and what a browser makes of it.
type extent struct{ Left, Right, Top, Bottom, Width, Height float64 }

// lit draws an SVG at one pixel to one in a browser, and gives the extent of all that has a colour.
func lit(page *browsertest.Page, svg, colour string) (e extent) {
	text, err := json.Marshal(svg)
	if err != nil {
		panic(err)
	}
	got := browsertest.Eval[string](page, fmt.Sprintf(`new Promise((done, fail) => {
		const image = new Image();
		image.onerror = () => fail("the drawing cannot be read");
		image.onload = () => {
			const canvas = document.createElement("canvas"), e = {Left: 1e9, Right: -1, Top: 1e9, Bottom: -1, Width: image.naturalWidth, Height: image.naturalHeight};
			canvas.width = e.Width; canvas.height = e.Height;
			const to = canvas.getContext("2d");
			to.drawImage(image, 0, 0);
			const pixels = to.getImageData(0, 0, e.Width, e.Height).data, colour = %q.match(/[0-9a-f]{2}/g).map(c => parseInt(c, 16));
			for (let i = 0; i < pixels.length; i += 4)
				if (pixels[i] === colour[0] && pixels[i+1] === colour[1] && pixels[i+2] === colour[2]) {
					const x = i / 4 %% e.Width, y = Math.floor(i / 4 / e.Width);
					e.Left = Math.min(e.Left, x); e.Right = Math.max(e.Right, x); e.Top = Math.min(e.Top, y); e.Bottom = Math.max(e.Bottom, y);
				}
			done(JSON.stringify(e));
		};
		image.src = "data:image/svg+xml," + encodeURIComponent(%s);
	})`, colour, text))
	if err := json.Unmarshal([]byte(got), &e); err != nil {
		panic(err)
	}
	return e
}

// The first lit column of a frame is that of its anchor, the last is its width farther less one, and
// so for rows; the drawing is as large as the canvas.
func TestLeaderIsExactToThePixel(t *testing.T) {
	page := browsertest.Start(t).Open(t, "data:text/html,<title>leader</title>", 800, "light")
	draws := 0
	rapid.Check(t, func(t *rapid.T) {
		if draws++; draws > 25 { // each is a drawing in a browser
			return
		}
		side := rapid.IntRange(60, 1500)
		canvas := framelist.Canvas{
			ID: "CV", Source: "CV", Label: "a <canvas> & more",
			Size:    framelist.Size{Width: 2 * float64(side.Draw(t, "half width")), Height: float64(side.Draw(t, "height"))},
			Squeeze: rapid.SampledFrom([]float64{1, 1.33, 2}).Draw(t, "squeeze"),
		}
		intent := framelist.Intent{ID: "FI", Ratio: framelist.WholeRatio(float64(rapid.IntRange(100, 270).Draw(t, "ratio"))/100, 1), Protection: rapid.SampledFrom([]float64{0, 0.1, 0.25}).Draw(t, "protection")}
		d := framelist.Decision{ID: "CV-FI", Intent: "FI"}
		rounding := rapid.SampledFrom([]framelist.Rounding{framelist.Usual, {}}).Draw(t, "rounding")
		d.Frame, d.Protected = framelist.Decide(canvas.Working(), canvas.Squeeze, intent.Ratio, intent.Protection, rounding)
		to := framelist.Point{X: float64(rapid.IntRange(0, int(canvas.Size.Width)).Draw(t, "x")), Y: float64(rapid.IntRange(0, int(canvas.Size.Height)).Draw(t, "y"))}
		if rapid.Bool().Draw(t, "moved") {
			d.Frame, d.Protected = framelist.Move(canvas.Working(), d.Frame, d.Protected, to)
		}
		canvas.Decisions = []framelist.Decision{d}
		list := framelist.New()
		list.Add("test 1", []framelist.Intent{intent}, []framelist.Context{{Canvases: []framelist.Canvas{canvas}}})
		desqueezed, across := rapid.Bool().Draw(t, "desqueezed"), 1.0
		var svg strings.Builder
		if err := Leader(&svg, "a <body> & more", &brief.FramingList{List: list, Intent: "FI"}, list.Canvases()[0], desqueezed); err != nil {
			t.Fatal(err)
		}
		shift := 0.0 // of what lies in a canvas that is rounded to whole pixels
		if desqueezed {
			across = canvas.Squeeze
			shift = (math.RoundToEven(canvas.Size.Width*across) - canvas.Size.Width*across) / 2
		}
		frames := map[string]framelist.Area{leaderFrame: d.Frame}
		if d.Protected.Known() {
			frames[leaderProtected] = d.Protected
		}
		for colour, a := range frames {
			got := lit(page, svg.String(), colour)
			if want := math.RoundToEven(canvas.Size.Width * across); got.Width != want || got.Height != canvas.Size.Height {
				t.Fatalf("the drawing is %v x %v, want %v x %v", got.Width, got.Height, want, canvas.Size.Height)
			}
			for side, pair := range map[string][2]float64{
				"first column": {got.Left, a.X*across + shift}, "last column": {got.Right, (a.X+a.Width)*across + shift - 1},
				"first row": {got.Top, a.Y}, "last row": {got.Bottom, a.Y + a.Height - 1},
			} {
				// A border between two pixels is drawn at the nearer one.
				if math.Abs(pair[0]-pair[1]) > 0.5+1e-6 {
					t.Errorf("%s of %s: got %v, want %v, of %v in %v", side, colour, pair[0], pair[1], a, canvas.Size)
				}
			}
		}
	})
}
