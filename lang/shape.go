package lang

import "reflect"

// A Shape says how statements may stand in a block, or at the top of a file, by their keywords.
type Shape map[string]Standing

// A Standing is how the statements of one keyword may stand.
type Standing struct {
	Repeats bool  // there may be several
	Named   bool  // of several, the first value tells each from the others
	Free    bool  // the order of several says nothing
	Inner   Shape // of the blocks that they open; nil for none
}

// ShapeOf reads the shape of a struct type from the tags by which [Decode] fills it.
func ShapeOf(t reflect.Type) Shape {
	p := planOf(t)
	shape := make(Shape, len(p.fields))
	for _, f := range p.fields {
		standing := Standing{Repeats: f.list}
		if f.composite {
			kind := t.Field(f.index).Type
			if f.list {
				kind = kind.Elem()
			}
			standing.Inner = ShapeOf(kind)
			standing.Named = f.list && len(planOf(kind).labels) > 0
		}
		shape[f.keyword] = standing
	}
	return shape
}

// Name says of statements that repeat that their first value tells them apart.
func (s Shape) Name(keywords ...string) {
	for _, keyword := range keywords {
		standing, ok := s[keyword]
		if !ok || !standing.Repeats {
			panic("lang.Shape: " + keyword + " does not repeat")
		}
		standing.Named = true
		s[keyword] = standing
	}
}
