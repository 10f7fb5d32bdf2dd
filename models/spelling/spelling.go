package spelling

import (
	"slices"
	"strings"
)

// DidYouMean gives "; did you mean NAME?" for the only name among known that begins with
// word or, failing that, for the one nearest to it; "" where none is near enough to be a
// slip of the pen.
func DidYouMean(word string, known []string) string {
	letters := len([]rune(word))
	begun := slices.DeleteFunc(slices.Clone(known), func(name string) bool { return !strings.HasPrefix(name, word) })
	if len(begun) == 1 && letters > 2 {
		return "; did you mean " + begun[0] + "?"
	}
	best, distance := "", min(1+letters/3, letters-1) // another letter altogether is no slip
	for _, name := range known {
		d := editDistance(strings.ToLower(word), strings.ToLower(name), distance)
		if d < distance || best == "" && d == distance {
			best, distance = name, d
		}
	}
	if best == "" {
		return ""
	}
	return "; did you mean " + best + "?"
}

// Offer is DidYouMean, or where no name is near and they are few, all of them.
func Offer(word string, known []string) string {
	const few = 12
	if hint := DidYouMean(word, known); hint != "" || len(known) == 0 || len(known) > few {
		return hint
	}
	return "; there is " + List(known, "and")
}

// editDistance counts the letters to insert, remove, replace or swap with their
// neighbour to make b of a (optimal string alignment: F. Damerau 1964, Commun.
// ACM 7:171, each letter edited once). It gives limit+1 where the lengths alone
// put it beyond limit.
func editDistance(a, b string, limit int) int {
	s, t := []rune(a), []rune(b)
	if max(len(s)-len(t), len(t)-len(s)) > limit {
		return limit + 1
	}
	before, row := make([]int, len(t)+1), make([]int, len(t)+1)
	next := make([]int, len(t)+1)
	for j := range row {
		row[j] = j
	}
	for i := range s {
		next[0] = i + 1
		for j := range t {
			cost := 1
			if s[i] == t[j] {
				cost = 0
			}
			next[j+1] = min(row[j]+cost, row[j+1]+1, next[j]+1)
			if i > 0 && j > 0 && s[i] == t[j-1] && s[i-1] == t[j] {
				next[j+1] = min(next[j+1], before[j-1]+1)
			}
		}
		before, row, next = row, next, before
	}
	return row[len(t)]
}

// List joins words as "a, b or c", or with another word before the last.
func List(words []string, last string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	end := len(words) - 1
	return strings.Join(words[:end], ", ") + " " + last + " " + words[end]
}

var oneLine = strings.NewReplacer("\n", " ", "\t", " ", "\u2028", " ", "\u2029", " ")

// Shorten makes text fit to be quoted in a message of one line.
func Shorten(text string) string {
	const most = 40
	text = oneLine.Replace(text)
	if r := []rune(text); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return text
}
