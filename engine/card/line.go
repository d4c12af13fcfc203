package card

// A Line is a line of a card, which says one value or several that belong together. The
// order is that on the card.
type Line uint8

const (
	LensLine Line = iota
	StopLine
	FocusLine
	ConfusionLine
	WalkLine
	CircleLine
	MarksLine
	RoomLine
	PassageLine
	ModeLine
	SupportLine
	ISOLine
	ShutterLine
	NDLine
	LightLine
	PictureLine
	PayloadLine
	TrimLine
	HangLine
	SwapLine

	Lines // how many there are
)

// A Role is what a line is for.
type Role uint8

const (
	Known   Role = iota // to know
	Dialled             // set before the shot, and where to go in it: these stand first
	Step                // to do before all else
)

var roles = [Lines]Role{
	LensLine: Dialled, StopLine: Dialled, FocusLine: Dialled, WalkLine: Dialled, CircleLine: Dialled,
	ISOLine: Dialled, ShutterLine: Dialled, NDLine: Dialled, SwapLine: Step,
}

// Role gives what the line is for.
func (l Line) Role() Role { return roles[l] }
