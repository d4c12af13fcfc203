package sheet

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

const (
	faultDate  = "is a date or a time to the spreadsheet; set the cell to text and write it again"
	faultShown = "is shown in a way that cannot be read; set the cell to a plain number"
)

// numberCell gives a number with the text that its format adds: 1.25 in the format
// `0.0" kg"` is "1.25 kg", and 0.025 in "0%" is "2.5%". It keeps all digits of the number,
// also those that the format would not show.
func numberCell(number float64, format string) cell {
	sections := splitFormat(format)
	section, own := sections[0], false
	switch {
	case number == 0 && len(sections) > 2:
		section, own = sections[2], true
	case number < 0 && len(sections) > 1:
		section, own = sections[1], true
	}
	plain := strconv.FormatFloat(number, 'f', -1, 64)
	before, after, percent, fault := beside(section)
	if own {
		// The number keeps its sign, so the format's own sign is dropped.
		sign := strings.NewReplacer("(", "", ")", "", "-", "")
		before, after = sign.Replace(before), sign.Replace(after)
	}
	if fault == "" && (strings.ContainsAny(before, ".,-0123456789") || strings.ContainsAny(after, "0123456789")) {
		fault = faultShown
	}
	if fault != "" {
		return cell{text: plain, fault: fault}
	}
	if percent {
		plain = strconv.FormatFloat(math.Round(number*100*1e9)/1e9, 'f', -1, 64)
	}
	return cell{text: before + plain + after, exact: true}
}

// A formatKind is the meaning of a piece of a number format.
type formatKind int

const (
	formatNothing formatKind = iota // a colour, or padding
	formatDigits
	formatLiteral
	formatComma
	formatPercent
	formatDate
	formatSection
	formatOdd
)

// formatPiece gives the first piece of a format: its kind, the text that it shows and its
// length (as ECMA-376 part 1, 18.8.31; the tests hold it to a library).
func formatPiece(format string) (kind formatKind, text string, length int) {
	const general = "general"
	if len(format) >= len(general) && strings.EqualFold(format[:len(general)], general) {
		return formatDigits, "", len(general)
	}
	_, next := utf8.DecodeRuneInString(format[1:])
	switch c := format[0]; {
	case strings.IndexByte("0#?.@", c) >= 0:
		return formatDigits, "", 1
	case (c == 'E' || c == 'e') && len(format) > 1 && (format[1] == '+' || format[1] == '-'):
		return formatDigits, "", 2
	case c == ',':
		return formatComma, "", 1
	case c == '%':
		return formatPercent, "%", 1
	case c == ';':
		return formatSection, "", 1
	case c == '"':
		if text, _, closed := strings.Cut(format[1:], `"`); closed {
			return formatLiteral, text, len(text) + 2
		}
		return formatOdd, "", len(format)
	case c == '\\':
		return formatLiteral, format[1 : 1+next], 1 + next
	case c == '_' || c == '*':
		return formatNothing, "", 1 + next
	case c == '[':
		inside, _, closed := strings.Cut(format[1:], "]")
		length := min(len(inside)+2, len(format))
		switch {
		case !closed || strings.ContainsAny(inside, "<=>"):
			return formatOdd, "", length
		case strings.HasPrefix(inside, "$"):
			currency, _, _ := strings.Cut(inside[1:], "-")
			return formatLiteral, currency, length
		case strings.Trim(strings.ToLower(inside), "hms") == "":
			return formatDate, "", length
		}
		return formatNothing, "", length
	case strings.IndexByte("dmyhsapegb", c|0x20) >= 0 && c >= 'A':
		return formatDate, "", 1
	case c|0x20 >= 'a' && c|0x20 <= 'z':
		return formatOdd, "", 1
	}
	_, length = utf8.DecodeRuneInString(format)
	return formatLiteral, format[:length], length
}

// splitFormat gives the sections of a format: for numbers above, below and at zero.
func splitFormat(format string) []string {
	var sections []string
	start := 0
	for i := 0; i < len(format); {
		kind, _, length := formatPiece(format[i:])
		if kind == formatSection {
			sections = append(sections, format[start:i])
			start = i + 1
		}
		i += length
	}
	return append(sections, format[start:])
}

// beside gives the text that a section of a format adds before and after the digits, and
// whether it shows percent. It gives a fault if the format shows another number than the
// cell holds.
func beside(section string) (before, after string, percent bool, fault string) {
	if section == "" {
		return "", "", false, ""
	}
	digits, scaled := false, false
	for section != "" {
		kind, text, length := formatPiece(section)
		section = section[length:]
		switch kind {
		case formatDigits:
			// Blanks may group thousands; other text between digits is a notation of its own.
			if !digits {
				before = after
			} else if strings.Trim(after, " \u00a0\u202f/") != "" {
				return "", "", false, faultShown
			}
			digits, scaled, after = true, false, ""
		case formatComma:
			scaled = digits
		case formatPercent:
			if percent {
				return "", "", false, faultShown
			}
			percent = true
			after += text
		case formatLiteral:
			after += text
		case formatDate:
			return "", "", false, faultDate
		case formatOdd:
			return "", "", false, faultShown
		}
	}
	if !digits || scaled {
		return "", "", false, faultShown
	}
	return before, after, percent, ""
}
