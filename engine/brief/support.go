package brief

import (
	"fmt"

	"glassbrief/engine/facts"
	"glassbrief/engine/motion"
)

// supports gives what a word of "support" stands for; a shot without the line is flown.
var supports = map[string]facts.Support{
	"": facts.Sled, facts.Sled.String(): facts.Sled, facts.DockedSled.String(): facts.DockedSled, facts.Legs.String(): facts.Legs,
}

// checkSupport reports a move that what holds the camera cannot make.
func (l *loader) checkSupport(b *shotBlock, shot *Shot) {
	if shot.Support == facts.Sled {
		return
	}
	move := shot.Move
	if move.Way != motion.Standing || move.Run || move.Low {
		l.contradiction(b.Support.Span, fmt.Sprintf("a camera with \"support %s\" makes no move but a pan", shot.Support),
			"Write \"move hold\", with a rate of turning for a pan, or \"support sled\".", move.Span, "the move is here")
	}
}
