package say

import (
	"math"

	"rodlore/diffing"
)

// thing is something of a mass that anybody has had in the hand.
type thing struct {
	path string
	mass float64 // kg
	most int     // that can still be pictured
}

// sheet is a sheet of paper of 80 g/m² in A4, of which sixteen make A0, which is
// a square metre (ISO 216:2007, 3.2).
const sheet = 0.080 / 16

// things are tried in this order. What a hen's egg weighs, some 60 g with its
// shell, is common practice, no source.
var things = []thing{
	{"likes.eggs", 0.060, 4},
	{"likes.sheets", sheet, 10},
	{"likes.half sheets", sheet / 2, 3},
}

// honest is by how much a comparison may be off, as a share.
const honest = 0.1

// like compares a change with something at hand; "" where nothing is near
// enough to it.
func (t Teller) like(s diffing.Shift) string {
	switch {
	case t.Unlike:
	case s.Unit == "kg":
		return t.likeMass(math.Abs(s.Change))
	case s.Unit == "Hz":
		return t.likeSwings(s)
	}
	return ""
}

func (t Teller) likeMass(change float64) string {
	for _, thing := range things {
		if n, ok := times(change, thing.mass); ok && n <= thing.most {
			return t.Count(thing.path, n)
		}
	}
	return ""
}

// times is how many of a thing come to an amount, and whether honestly.
func times(amount, thing float64) (int, bool) {
	n := math.Round(amount / thing)
	return int(n), n >= 1 && math.Abs(n*thing-amount) <= honest*amount
}

// likeSwings says in how many swings of before there is one more or fewer.
func (t Teller) likeSwings(s diffing.Shift) string {
	n, ok := times(s.Old.Value, math.Abs(s.Change))
	const least, most = 3, 60
	switch {
	case !ok || n < least || n > most:
		return ""
	case s.Change > 0:
		return t.Say("likes.more swings", t.counting(n)...)
	}
	return t.Say("likes.fewer swings", t.counting(n)...)
}
