package wording

import (
	"fmt"
	"math"
	"strings"

	"glassbrief/engine/brief"
	"glassbrief/engine/why"
	"glassbrief/lang"
)

// Change writes what a brief would have to say otherwise.
func Change(c *why.BriefChange, p lang.Printer) string {
	more := c.Said > c.Now
	switch c.Figure {
	case why.Distance:
		way := "nearer"
		if more {
			way = "farther off"
		}
		return fmt.Sprintf("the whole move %s %s: %s", short(math.Abs(c.Said), p), way, Between(c.Shot.Near, c.Shot.Far, p))
	case why.Light:
		return fmt.Sprintf("%s light: %s", stopsMore(c), p.Quantity(c.Said, "lx"))
	case why.Framing:
		return fmt.Sprintf("frame it %s", framing(c.Shot.Frame, p))
	case why.ISO:
		return fmt.Sprintf("ISO up to %.0f, which is %s", c.To, stopsMore(c))
	case why.Speed:
		unit := "m/s"
		if c.Shot.Move.Pace() == 0 {
			unit = "deg/s"
		}
		return fmt.Sprintf("at %s, not %s", p.Quantity(c.Said, unit), p.Quantity(c.Now, unit))
	default:
		word := "less"
		if more {
			word = "more"
		}
		return fmt.Sprintf("%s %s of accessories: %s", p.Quantity(math.Abs(c.Said-c.Now), "g"), word, p.Quantity(c.Said, "g"))
	}
}

// framing writes what a framing asks, as a scenario does.
func framing(f brief.Frame, p lang.Printer) string {
	switch {
	case f.Words[0] == "":
		return p.Quantity(f.Near.Low, "%") + ".." + p.Quantity(f.Near.High, "%") + " of its height"
	case f.Words[0] == f.Words[1]:
		return f.Words[0]
	}
	return f.Words[0] + ".." + f.Words[1]
}

// short writes a length that may be a few millimetres.
func short(length float64, p lang.Printer) string {
	if length < 0.1 && p.System == lang.Metric {
		return p.Quantity(length, "mm")
	}
	return p.Quantity(length, "m")
}

// Between writes an interval of distances; one that a tape shows as nothing by how long it is.
func Between(near, far float64, p lang.Printer) string {
	from, to := p.Quantity(near, "m"), p.Quantity(far, "m")
	switch {
	case math.IsNaN(near) && math.IsNaN(far), near == far:
		return from
	case from == to:
		return p.Quantity(far-near, "mm") + " at " + from
	}
	if strings.HasSuffix(to, " m") { // the unit once, as it is spoken
		from = strings.TrimSuffix(from, " m")
	}
	return from + " to " + to
}

func stopsMore(c *why.BriefChange) string {
	stops := math.Log2(c.Said / c.Now)
	word := "less"
	if stops > 0 {
		word = "more"
	}
	tenths := math.Round(math.Abs(stops)*10) / 10
	if tenths == 0 {
		return "a trace " + word
	}
	return lang.Printer{}.Quantity(tenths, "stops") + " " + word
}
