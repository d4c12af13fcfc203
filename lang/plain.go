package lang

import "github.com/alecthomas/participle/v2/lexer"

// plainHead reads a statement that is a keyword and plain values, as most are, without the
// grammar, which takes twenty times as long to build the same. It gives nil, and has read
// nothing, where anything else stands.
func (p *parser) plainHead() *Statement {
	start := p.at
	keyword := start.token
	if keyword.Type != tokenWord {
		return nil
	}
	p.at.next()
	p.plain = p.plain[:0]
	for !endsHead(p.at.token.Type) {
		v, ok := p.plainValue()
		if !ok {
			p.at = start
			return nil
		}
		p.plain = append(p.plain, v)
	}
	// Nothing can turn out to be for the grammar any more, so faults may be reported.
	statement := p.newStatement(keyword.Value, p.span(&keyword))
	statement.Values = p.values.take(len(p.plain))
	for i := range p.plain {
		built := p.value(p.plain[i].value())
		statement.Values[i] = built
		statement.Span.End = built.Span.End
	}
	return statement
}

// plain is a value that begins with a literal, and that no more than two others follow.
type plain struct {
	literals [3]literal
	given    int
	joint    lexer.Token // behind the first literal, if it joins
	node     struct {
		value
		dots
		sizes [2]*literal
	}
}

// value gives it as the grammar would, in memory of its own.
func (v *plain) value() *value {
	n := &v.node
	n.value = value{First: &v.literals[0]}
	switch v.joint.Type {
	case tokenTimes:
		n.sizes = [2]*literal{&v.literals[1], &v.literals[2]}
		n.Sizes = n.sizes[:v.given-1]
	case tokenColon:
		n.Ratio = &v.literals[1]
	case tokenDots:
		n.dots = dots{Pos: v.joint.Pos}
		n.Dots = &n.dots
		if v.given > 1 {
			n.Last = &v.literals[1]
		}
	}
	return &n.value
}

// plainValue reads a value if it is plain.
func (p *parser) plainValue() (v plain, ok bool) {
	if !p.add(&v) {
		return v, false
	}
	switch v.joint = p.at.token; v.joint.Type {
	case tokenTimes:
		for p.at.token.Type == tokenTimes {
			if p.at.next(); !p.add(&v) {
				return v, false
			}
		}
	case tokenColon:
		p.at.next()
		return v, p.add(&v)
	case tokenDots:
		p.at.next()
		p.add(&v)
	}
	return v, true
}

// add reads one more literal of a plain value, if one stands here and there is room.
func (p *parser) add(v *plain) (ok bool) {
	if v.given == len(v.literals) {
		return false
	}
	if v.literals[v.given], ok = single(&p.at.token); ok {
		v.given++
		p.at.next()
	}
	return ok
}

// single gives a token as the literal that a single value is, if it can be one.
func single(token *lexer.Token) (literal, bool) {
	l := literal{Pos: token.Pos}
	switch token.Type {
	case tokenText:
		l.Text = token.Value
	case tokenQuantity:
		l.Quantity = token.Value
	case tokenWord:
		l.Word = token.Value
	default:
		return l, false
	}
	return l, true
}
