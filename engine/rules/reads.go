package rules

import (
	"github.com/expr-lang/expr/ast"

	"glassbrief/engine/facts"
	"glassbrief/lang/expression"
)

// Reads gives the facts that judging by the set looks at, those it only asks about
// included. What only reasons show is not among them.
func (s *Set) Reads() facts.Set {
	var r readSet
	for i := range s.facts {
		r.read(s.facts[i].Checked)
	}
	for _, c := range s.criteria {
		if c.When != nil {
			r.read(c.When.Checked)
		}
		for i := range c.Vetoes {
			r.read(c.Vetoes[i].Checked)
		}
		for i := range c.Scores {
			r.read(c.Scores[i].Checked)
		}
	}
	return r.set
}

type readSet struct {
	set   facts.Set
	names *expression.Vocabulary
}

func (r *readSet) read(checked *expression.Checked) {
	r.names = checked.Names
	node := checked.Node
	ast.Walk(&node, r)
}

// Visit takes the names of the tree; those of functions are not in the vocabulary.
func (r *readSet) Visit(node *ast.Node) {
	if name, ok := (*node).(*ast.IdentifierNode); ok {
		if index, found := r.names.Lookup(name.Value); found {
			r.set.Add(facts.ID(index))
		}
	}
}
