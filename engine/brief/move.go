package brief

import (
	"slices"

	"glassbrief/engine/facts"
	"glassbrief/engine/motion"
	"glassbrief/engine/people"
	"glassbrief/lang"
)

// A MoveKind is what the word of a move says. The zero value is that of a shot that names no
// move: the camera stands.
type MoveKind struct {
	Word   string
	Way    motion.Way
	Gait   people.Gait // of the operator, unless the move is run
	Hazard Hazard
}

// moves lists the moves of the trade. All that depends on the word of a move stands in its row.
var moves = [...]MoveKind{
	{"hold", motion.Standing, people.Still, NoHazard},
	{"follow", motion.Behind, people.Walking, EyesOnPicture},
	{"lead", motion.Before, people.Walking, Backwards},
	{"side", motion.Beside, people.Walking, Sideways},
	{"orbit", motion.Circling, people.Walking, Circling},
	{"push-in", motion.Approaching, people.Walking, EyesOnPicture},
	{"pull-out", motion.Retreating, people.Walking, Backwards},
	{"boom", motion.Rising, people.Still, Lifting}, // the operator stands, and an arm lifts the rig
	{"pass-through", motion.Approaching, people.Walking, PassingThrough},
	{"stairs", motion.Behind, people.Climbing, OnStairs},
}

// Moves lists the move words.
func Moves() []string {
	words := make([]string, len(moves))
	for i := range moves {
		words[i] = moves[i].Word
	}
	return words
}

// Move is how the camera moves in a shot: a word, a speed or rate of turning, and the
// attributes "low mode" and "run".
type Move struct {
	MoveKind
	Speed lang.Quantity // of the camera; unknown when not given
	Turn  lang.Quantity // of a pan
	Low   bool
	Run   bool
	Span  lang.Span
}

// DecodeArgs reads the values of "move".
func (m *Move) DecodeArgs(args *lang.Args) {
	m.Span = args.Rest()
	if i := slices.Index(Moves(), args.Word(Moves()...).Value); i >= 0 {
		m.MoveKind = moves[i]
	}
	for args.More() && !args.Failed() {
		switch {
		case args.PeekQuantity() && m.Way == motion.Standing:
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
}

// The speed in m/s of a move that names none.
const (
	walkingPace = 1.27 // the low end of the published walks (127 to 146 cm/s): carrying a rig is no stroll
	runningPace = 3.0  // common practice, no source
)

// Pace gives the speed of the camera in m/s, an assumed one when the move names none, and
// 0 when the camera stands.
func (m Move) Pace() float64 {
	switch {
	case m.Way == motion.Standing:
		return 0
	case m.Run:
		return m.Speed.Or(runningPace)
	}
	return m.Speed.Or(walkingPace)
}

// motion gives the kinematics of the move where it is hardest, at its nearest distance.
func (m Move) motion(near float64) facts.Motion {
	gait := m.Gait
	if m.Run && gait == people.Walking {
		gait = people.Running
	}
	speed := m.Pace()
	at := motion.Path{Way: m.Way, Near: near, Far: near, Speed: speed, Turn: m.Turn.Or(0)}.At(0)
	return facts.Motion{
		Speed: speed, Turn: at.Turn, Sweep: at.Sweep, Bob: gait.Bob(speed), Sway: gait.Sway(speed), Unrest: gait.Unrest(speed),
		Rises: m.Way == motion.Rising, Backwards: m.Way.Backwards(), Low: m.Low, Run: m.Run, Stairs: gait == people.Climbing,
		KeepsByEye: m.Way != motion.Standing,
	}
}
