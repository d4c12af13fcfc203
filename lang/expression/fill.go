package expression

import "strings"

// Text gives the expression as it was written, on one line and without comments.
func (c *Checked) Text() string {
	return c.Fill(func(index int) string { return c.Names.Name(index).Name })
}

// Fill gives the expression on one line with a text in the place of each fact; fact gives
// the text for the fact with an index in the vocabulary. Quantities stay as written, and
// comments go.
func (c *Checked) Fill(fact func(index int) string) string {
	r := read(c.Span, c.Names)
	var b strings.Builder
	for at := 0; at < len(r.places); {
		place := r.places[at]
		for at < len(r.places) && r.places[at] == place {
			at++
		}
		text := c.Span.Sub(place.start, place.end).Text()
		if index, ok := c.Names.Lookup(text); ok {
			text = fact(index)
		}
		b.WriteString(text)
	}
	return strings.Join(strings.Fields(b.String()), " ")
}
