package lang

import (
	"fmt"
	"strconv"
)

// Edition is the newest edition of the language that the program reads. A file may say its own on its
// first line, as "glassbrief 1"; one that does not is of edition 1, whatever the newest is.
//
// Every edition begins with such a line: that is how a program tells that a file is of one that it does
// not know.
const Edition = 1

// EditionKeyword begins the line that says the edition of a file.
const EditionKeyword = "glassbrief"

// EditionMeaning is what the language reference and editors say about that line.
const EditionMeaning = "The edition of the language that the file is written in; it stands before all else. A file without it is of edition 1."

// editionLine says what the line takes.
type editionLine struct {
	Number Quantity `lang:"glassbrief,dim=plain,possible=1..1"`
}

// takeEdition takes the line with the edition off the first statements of a file. Of a newer edition
// nothing else can be said: the file is refused.
func (p *parser) takeEdition(list []*Statement) []*Statement {
	if len(list) == 0 || list[0].Keyword.Value != EditionKeyword {
		return list
	}
	p.edition = list[0]
	if newer := newerEdition(p.edition); newer != nil {
		p.refused, p.found = true, Diagnostics{*newer}
	}
	return list[1:]
}

// newerEdition reports an edition that the program does not know, or gives nil.
func newerEdition(s *Statement) *Diagnostic {
	if len(s.Values) == 0 || s.Values[0].Form != Single {
		return nil
	}
	said := s.Values[0].Parts[0]
	if said.Kind != NumberPart || said.Quantity.Dim != Plain || said.Quantity.Unit != "" || said.Quantity.Value <= Edition {
		return nil
	}
	return &Diagnostic{
		Severity: Error, Code: NewerEdition, Span: said.Span,
		Summary: fmt.Sprintf("the file is of edition %s, and this program reads up to edition %d", said.Span.Text(), Edition),
		Detail:  "Take a newer glassbrief. Nothing more of the file was read.",
	}
}

// checkEdition gives what is wrong with the line of the edition.
func (p *parser) checkEdition() Diagnostics {
	if p.edition == nil {
		return nil
	}
	return Decode(&File{Source: p.src, Statements: []*Statement{p.edition}}, &editionLine{})
}

// misplacedEdition reports the line where it is not the first.
func misplacedEdition(s *Statement) Diagnostic {
	return Diagnostic{
		Severity: Error, Code: UnexpectedText, Span: s.Keyword.Span,
		Summary: strconv.Quote(EditionKeyword) + " says the edition of the file, and stands before all else",
		Detail:  "Move the line to the beginning of the file, or remove it: a file without it is of edition 1.",
		Fix:     Correction{Span: s.Span.withLine()},
	}
}
