package engine

import (
	"fmt"

	"glassbrief/engine/exposure"
	"glassbrief/lang"
)

// lightLevel is the light on the subject: a quantity, or a level of the published tables
// by its name ("light office").
type lightLevel struct {
	Lux  lang.Quantity
	Name string // of the level; empty for a quantity
}

// DecodeArgs reads the value of "light".
func (l *lightLevel) DecodeArgs(args *lang.Args) {
	if args.PeekKind() != lang.WordPart {
		l.Lux = args.Quantity(lang.Illuminance)
		if l.Lux.Known() && l.Lux.Value <= 0 {
			args.Report(lang.Diagnostic{
				Severity: lang.Error, Code: lang.OutOfRange, Span: l.Lux.Span,
				Summary: fmt.Sprintf("%q leaves nothing to expose", l.Lux.Span.Text()),
				Detail:  "Write the light that falls on the subject, as a meter reads it; leave the line out while it is unknown.",
			})
		}
		return
	}
	word := args.Word(exposure.LevelNames()...)
	if level, ok := exposure.NamedLevel(word.Value); ok {
		l.Name = word.Value
		l.Lux = lang.NewQuantity(level.Lux, lang.Illuminance)
		l.Lux.Span = word.Span
	}
}
