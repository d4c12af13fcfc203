package engine

import (
	"glassbrief/engine/facts"
	"glassbrief/engine/motion"
	"glassbrief/lang"
)

// moves lists the moves of the trade.
var moves = []string{"hold", "follow", "lead", "side", "orbit", "push-in", "pull-out", "boom", "pass-through", "stairs"}

// Moves lists the move words.
func Moves() []string { return moves }

// Move is how the camera moves in a shot: a word, a speed or rate of turning, and the
// attributes "low mode" and "run".
type Move struct {
	Word  string
	Speed lang.Quantity // of the camera; unknown when not given
	Turn  lang.Quantity // of a pan
	Low   bool
	Run   bool
	Span  lang.Span
}

// DecodeArgs reads the values of "move".
func (m *Move) DecodeArgs(args *lang.Args) {
	m.Span = args.Rest()
	m.Word = args.Word(moves...).Value
	for args.More() && !args.Failed() {
		switch {
		case args.PeekQuantity() && m.Word == "hold":
			m.Turn = args.Quantity(lang.AngularSpeed)
		case args.PeekQuantity():
			m.Speed = args.Quantity(lang.Speed)
		default:
			switch args.Word("low", "run").Value {
			case "low":
				args.Word("mode")
				m.Low = true
			case "run":
				m.Run = true
			}
		}
	}
	if m.Speed.Known() && m.Speed.Value < 0 {
		args.Report(lang.Diagnostic{
			Severity: lang.Error, Code: lang.OutOfRange, Span: m.Speed.Span,
			Summary: "a speed cannot be negative", Detail: "The word of the move says which way it goes.",
		})
	}
}

// WalkingPace is the speed of a move whose speed is not given: a comfortable walk at the
// low end of the published range (127 to 146 cm/s), for carrying a rig is no stroll.
const WalkingPace = 1.27

// RunningPace is the same for a move that is run (common practice, no source).
const RunningPace = 3.0

// Pace gives the speed of the camera in m/s, an assumed one when the move names none, and
// 0 when the camera holds.
func (m Move) Pace() float64 {
	switch {
	case m.Word == "hold" || m.Word == "":
		return 0
	case m.Run:
		return m.Speed.Or(RunningPace)
	}
	return m.Speed.Or(WalkingPace)
}

// motion gives the kinematics of the move at the distance where it is hardest.
func (m Move) motion(near float64) facts.Motion {
	speed := m.Pace()
	if m.Word == "hold" || m.Word == "" {
		return facts.Motion{Turn: m.Turn.Or(0), Low: m.Low}
	}
	got := facts.Motion{
		Speed: speed, Low: m.Low, Run: m.Run, Stairs: m.Word == "stairs",
		Backwards: m.Word == "lead" || m.Word == "pull-out", KeepsByEye: true,
	}
	switch m.Word {
	case "orbit":
		got.Turn = motion.OrbitTurn(speed, near)
	case "side", "boom":
		got.Sweep = speed
	}
	switch {
	case m.Word == "boom":
		// The operator stands; the arm lifts the rig, and no step shakes it.
	case got.Stairs:
		got.Bob = motion.StairsBob
	case m.Run:
		got.Bob = motion.RunBob
	default:
		got.Bob = motion.Bob(speed)
	}
	return got
}
