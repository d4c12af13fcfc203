// Package expression turns the text of one expression of a rule into a checked tree.
//
// The way in is [Check], for the conditions and scores of rules, and [CheckTemplate],
// for the reasons that quote values in braces. Both take a [Vocabulary]: the names that
// an expression may read, each with its kind and dimension.
//
// An expression is text of package expr's language, cut down to what a rule needs, plus
// quantities with units. It goes this way, and every stage reports all that it finds:
//
//  1. read cuts the text into tokens, refuses what rules may not use, judges names and
//     units, and writes every quantity as a plain number in SI units, keeping the places;
//  2. expr's parser makes the tree;
//  3. judge walks the tree for kinds (numbers and truths) and dimensions;
//  4. expr's checker must find the types of the tree in order too.
//
// # Grammar
//
// Values are facts, quantities ("1.2m", "12%", "f/4", "1 1/3 stops"), plain numbers,
// true and false. Operators, the loosest first: a ? b : c; or (||); and (&&); == and !=
// of truths; < <= > >=, which may be chained as in 1m < x <= 2m; + and -; * and /;
// not (!); - and + before a value. [Functions] lists the functions. A number and its
// unit are one value, so 1/50s is a fiftieth of a second, and % always means percent;
// without a unit 1/50 is a division.
//
// # The unknown
//
// A fact can be unknown. An expression that reads an unknown fact is unknown as a whole:
// whoever evaluates it compares [Checked.Reads] with what is known before asking for a
// value. known(fact) asks whether a fact is known, and an expression that asks answers
// for that fact itself; or_else(fact, fallback) puts a value in place of the unknown.
//
// Known facts may be infinite, and arithmetic on infinities can give NaN. A comparison
// with NaN is false, every function hands NaN on, and a number that comes out as NaN is
// undecided, which callers treat as unknown.
package expression
