package cmd

import (
	"fmt"
	"io"

	"glassbrief/catalog"
	"glassbrief/cmd/report"
	"glassbrief/cmd/show"
	"glassbrief/engine/brief"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// framing is the verb that hands the frame on: as a Framing Decision List, and as a picture.
func (a *app) framing() *cobra.Command {
	var camera, mode string
	var desqueezed bool
	c := &cobra.Command{
		Use:   "framing SCENARIO",
		Short: "the delivered frame in pixels, for others and as a leader",
		Long: `Says where the delivered and the protected frame stand in each camera's pixels.
With -o unit.fdl it writes an open Framing Decision List of version 2.0, which
cameras and post production read; what a list that the scenario names holds
besides is kept. With -o leader.svg it draws a leader of exactly the camera's
pixels. The catalogue must have the pixels of the modes.`,
		Example: `  glassbrief framing night-ferry.scenario
  glassbrief framing night-ferry.scenario -o unit.fdl
  glassbrief framing night-ferry.scenario -o leader.svg`,
		Args: oneFile,
		RunE: func(c *cobra.Command, args []string) error {
			s, err := a.load(args[0])
			if err != nil {
				return err
			}
			list, found := s.FramingList("glassbrief " + version())
			if found.HasErrors() {
				return found
			}
			a.reportWarnings(found)
			return a.show(view{
				page: func(p lang.Printer) show.Page { return framingPage(s, list) },
				list: func(w io.Writer) error {
					_, err := w.Write(list.List.Bytes())
					return err
				},
				drawing: func(w io.Writer) error {
					camera, mode, err := drawnMode(s, camera, mode)
					if err != nil {
						return err
					}
					canvas := list.Canvas(camera, mode)
					if canvas == nil {
						return usage(lang.MissingValue, "the mode %q of %q is in no list", mode.Name.Value, camera.Name.Value).
							because("Write the pixels of the mode in the catalogue, and use the mode in the scenario or a shot.")
					}
					return report.Leader(w, camera.Name.Value+", "+mode.Name.Value, list, canvas, desqueezed)
				},
			})
		},
	}
	flags := c.Flags()
	flags.StringVar(&camera, "camera", "", "draw this candidate `camera` of the scenario, not the first")
	flags.StringVar(&mode, "mode", "", "draw this `mode` of the camera, not that of the scenario")
	flags.BoolVar(&desqueezed, "desqueezed", false, "draw a squeezed canvas as it looks, not as it is recorded")
	return c
}

// drawnMode gives the camera and the mode that are drawn.
func drawnMode(s *brief.Scenario, camera, mode string) (*catalog.Camera, *catalog.Mode, error) {
	of, err := s.Camera(camera)
	if err != nil {
		return nil, nil, err
	}
	if mode == "" {
		mode = s.Mode
	}
	drawn := of.Mode(mode)
	if drawn == nil {
		return nil, nil, usage(lang.UnknownName, "%q has no mode %q", of.Name.Value, mode).
			or(lang.Nearest(mode, of.ModeNames())).because("Its modes are %s.", lang.Quoted(of.ModeNames()))
	}
	return of, drawn, nil
}

func framingPage(s *brief.Scenario, f *brief.FramingList) show.Page {
	var out show.Page
	out.Heading(s.Name)
	g := show.Grid{Columns: []show.Column{{Title: "canvas", Wraps: true}, {Title: "pixels"}, {Title: "squeeze"}, {Title: "ratio"}, {Title: "delivered"}, {Title: "at"}, {Title: "protected"}, {Title: "at"}}}
	for _, canvas := range f.List.Canvases() {
		for i := range canvas.Decisions {
			d := &canvas.Decisions[i]
			ratio := d.Intent
			if intent := f.List.Intent(d.Intent); intent != nil {
				ratio = brief.ShownRatio(intent.Ratio)
			}
			protected, at := "", ""
			if p := d.Protected; p.Known() {
				protected, at = p.Size.String(), fmt.Sprintf("%v, %v", p.X, p.Y)
			}
			tone := show.NoTone
			if d.Intent == f.Intent {
				tone = show.Strong
			}
			g.Rows = append(g.Rows, []show.Cell{
				{Text: canvas.ID}, {Text: canvas.Size.String()}, {Text: fmt.Sprint(canvas.Squeeze)}, {Text: ratio, Tone: tone},
				{Text: d.Frame.Size.String()}, {Text: fmt.Sprintf("%v, %v", d.Frame.X, d.Frame.Y)}, {Text: protected}, {Text: at},
			})
		}
	}
	out.Grid(g)
	out.Paragraph("Pixels as recorded, from the top left of the canvas. Write the list with -o unit.fdl, and a leader to the pixel with -o leader.svg.")
	return out
}
