package optics_test

import (
	"fmt"
	"math"

	"glassbrief/engine/optics"
)

// An 18 mm lens on a Super 35 frame holds a walk from 1.6 m to 2.8 m from the sensor.
func Example() {
	const focal = 0.018
	frame := optics.Frame{Width: 0.02489, Height: 0.01867}
	confusion := optics.Confusion(frame, optics.ConfusionDivisor)
	near, far := optics.FromSensor(focal, 1.6), optics.FromSensor(focal, 2.8)

	mark := optics.FocusMark(near, far)
	stop := optics.StopFor(focal, confusion, near, far)
	fmt.Printf("focus at %.2f m and stop down to f/%.1f\n", optics.SensorDistance(focal, mark), stop)
	fmt.Printf("sees %.0f degrees across\n", optics.AngleOfView(optics.Rectilinear, focal, frame.Width, 0)*180/math.Pi)
	// Output:
	// focus at 2.03 m and stop down to f/2.1
	// sees 69 degrees across
}

func ExampleLimits() {
	// Focused at the hyperfocal distance, all is sharp from half of it on.
	const focal, stop, confusion = 0.025, 4, 18e-6
	s := optics.Hyperfocal(focal, stop, confusion)
	near, far := optics.Limits(focal, stop, confusion, s)
	fmt.Printf("focused at %.2f m: %.2f m to %.0f\n", s, near, far)
	// Output: focused at 8.71 m: 4.35 m to +Inf
}

func ExampleMatch() {
	// What a 35 mm lens frames on full frame, by the width.
	small := optics.Frame{Width: 0.024, Height: 0.016}
	fmt.Printf("%.1f mm\n", 1000*optics.Match(0.035, optics.FullFrame, small, optics.ByWidth))
	// Output: 23.3 mm
}
