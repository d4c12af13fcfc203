package lang

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Meaning gives a text that is equal for two statements that say the same. Layout,
// comments, the unit of a quantity (120cm or 1.2m) and the form of an amount of light
// (EV7 or 320lx) make no difference. The text is for comparing, not for people.
func (s *Statement) Meaning() string {
	var b strings.Builder
	b.WriteString(s.Keyword.Value)
	for _, value := range s.Values {
		b.WriteByte(' ')
		parts := value.Parts
		if value.Form == ListOf {
			parts = shareUnit(parts)
		}
		for i, part := range parts {
			if i > 0 {
				b.WriteString([]string{IntervalOf: "..", SizeOf: "*", RatioOf: ":", ListOf: ","}[value.Form])
			}
			b.WriteString(part.meaning())
		}
	}
	if s.Expression != nil {
		b.WriteString(" = " + expressionMeaning(s.Expression.Span))
		if because := s.Expression.Because; because.Span.Known() {
			b.WriteString(" because " + Quote(because.Value))
		}
	}
	if s.Block != nil {
		b.WriteString(" {\n")
		for _, inner := range s.Block.Statements {
			b.WriteString(inner.Meaning() + "\n")
		}
		b.WriteByte('}')
	}
	return b.String()
}

// Meaning gives the meaning of all statements of a file, as [Statement.Meaning] does.
func (f *File) Meaning() string {
	var b strings.Builder
	if f.Edition != nil {
		b.WriteString(f.Edition.Meaning() + "\n")
	}
	for _, statement := range f.Statements {
		b.WriteString(statement.Meaning() + "\n")
	}
	return b.String()
}

func (p Part) meaning() string {
	switch p.Kind {
	case TextPart:
		return Quote(p.Text)
	case WordPart:
		return p.Text
	case NumberPart:
		return p.Quantity.meaning()
	}
	return ""
}

// meaning writes the value in SI units with fewer digits than a conversion keeps. The
// unit counts where it is more than a factor: f-numbers differ from T-numbers, and each
// currency from the others.
func (q Quantity) meaning() string {
	unit := ""
	if q.Dim == Aperture || q.Dim == Money {
		unit = q.Unit
	}
	return fmt.Sprintf("%.12g%v%s", q.Value, q.Dim, unit)
}

// expressionMeaning writes an expression as tokens with a blank between, and quantities
// by their meaning.
func expressionMeaning(span Span) string {
	var b strings.Builder
	text := span.Text()
	for at := 0; at < len(text); {
		rest := text[at:]
		if strings.HasPrefix(rest, "//") {
			at += lineLength(rest)
			continue
		}
		n := scanWord(rest)
		if quantity := ScanQuantity(rest); quantity > 0 && rest[0] != '-' {
			n = quantity
			if q, d := ReadQuantity(span.Sub(at, at+n)); d == nil {
				b.WriteString(q.meaning() + " ")
				at += n
				continue
			}
		}
		if n == 0 {
			_, n = utf8.DecodeRuneInString(rest)
		}
		b.WriteString(strings.TrimSpace(rest[:n]))
		if n > 1 {
			b.WriteByte(' ')
		}
		at += n
	}
	return b.String()
}
