package main

import (
	"cmp"
	"fmt"
	"strings"

	"rodlore/catalogue/say"
	"rodlore/diffing"
)

// sightsOf are things that a customer sees changed.
func sightsOf(t say.Teller, sights []diffing.Sight) []object {
	return say.Each(sights, func(s diffing.Sight) object {
		return object{
			{"aspect", s.Aspect}, {"old", t.Looks(s.Old)}, {"new", t.Looks(s.New)},
			{"size", s.Size},   // signed, in unit; 1 for what is told in words only
			{"unit", s.Unit},   // "m"; "1" for a count; "" for words
			{"limit", s.Limit}, // for one release; null where there is none
			{"own", s.Own},     // the maker's own limit; otherwise common practice
			{"over", s.Over()},
		}
	})
}

// commonLimits says whose the limits are that are not the maker's own.
const commonLimits = "common practice, no source; put your own under steps: in range.yaml"

// showSights prints what a customer sees changed between two rods, each against
// its limit for one release.
func (p *printer) showSights(say say.Teller, old, now string, sights []diffing.Sight) {
	if len(sights) == 0 {
		p.println("A customer sees no change at a glance.")
		return
	}
	t := newTable(words("a customer sees"), filling(old+" → "+now), numbers("change"), words("limit"), words(""))
	common := false
	for _, s := range sights {
		limit := say.Limit(s)
		if limit != "" && !s.Own {
			limit, common = limit+" *", true
		}
		t.add(say.Aspect(s.Aspect), say.FromTo(s), say.By(s), limit, map[bool]string{true: "over"}[s.Over()])
	}
	p.print("", t)
	if common {
		p.wrapped("", "* "+commonLimits)
	}
}

// besideRelease says in a sentence what a customer sees changed beside an
// earlier release, each against its limit.
func besideRelease(t say.Teller, label string, sights []diffing.Sight) string {
	words := say.Each(sights, func(s diffing.Sight) string {
		return fmt.Sprintf("%s %s%s", t.Aspect(s.Aspect), cmp.Or(t.By(s), t.FromTo(s)), limitWords(t, s))
	})
	return "on the rack beside " + label + ": " + strings.Join(words, " · ")
}

// limitWords say the limit of a sight in brackets, and whether it is exceeded.
func limitWords(t say.Teller, s diffing.Sight) string {
	limit := t.Limit(s)
	if limit == "" {
		return ""
	}
	text := "limit " + limit
	if s.Over() {
		text = "over the limit, " + limit
	}
	if !s.Own {
		text += ", common practice"
	}
	return " (" + text + ")"
}
