package lang

import (
	"strings"
	"unicode/utf8"
)

// Nearest gives the candidate that word is most likely a misspelling of, or "".
// A candidate counts when at most a third of its letters differ (one letter always may);
// letter case does not count. Of equally near candidates the first wins. A candidate that goes on
// behind the word, or stops before its end, with whole words comes first if it is the only one: names are
// cut short and lengthened more often than they are mistaken for one another.
func Nearest(word string, candidates []string) string {
	best, bestDistance := "", 0
	whole, wholes := "", 0
	folded := strings.ToLower(word)
	if utf8.RuneCountInString(word) > 64 {
		return ""
	}
	for _, candidate := range candidates {
		limit := max(1, utf8.RuneCountInString(candidate)/3)
		lower := strings.ToLower(candidate)
		distance := editDistance(folded, lower)
		if strings.HasPrefix(lower, folded+" ") || strings.HasPrefix(folded, lower+" ") {
			whole, wholes = candidate, wholes+1
		}
		if distance <= limit && (best == "" || distance < bestDistance) {
			best, bestDistance = candidate, distance
		}
	}
	if wholes == 1 && (best == "" || bestDistance > 0) {
		return whole
	}
	return best
}

// editDistance counts insertions, deletions, substitutions and swaps of neighbours.
func editDistance(a, b string) int {
	x, y := []rune(a), []rune(b)
	older, old, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range old {
		old[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		for j := 1; j <= len(y); j++ {
			substitution := old[j-1]
			if x[i-1] != y[j-1] {
				substitution++
			}
			row[j] = min(substitution, old[j]+1, row[j-1]+1)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], older[j-2]+1)
			}
		}
		older, old, row = old, row, older
	}
	return old[len(y)]
}

// Quoted joins words as a list for a sentence: "a", "b" or "c".
func Quoted(words []string) string { return quotedList(words, "or") }

// QuotedAll joins words as a list for a sentence: "a", "b" and "c".
func QuotedAll(words []string) string { return quotedList(words, "and") }

func quotedList(words []string, last string) string {
	text := ""
	for i, word := range words {
		switch {
		case i == 0:
		case i == len(words)-1:
			text += " " + last + " "
		default:
			text += ", "
		}
		text += `"` + word + `"`
	}
	return text
}
