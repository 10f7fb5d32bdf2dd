package models

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"rodlore/models/spelling"
	"rodlore/models/units"
)

// interval is the smallest and the largest value that a quantity may have, as text so
// that messages can quote them.
type interval struct {
	least, most string
	positive    bool // least is 0 and itself not allowed
}

// upTo allows anything above zero, up to most.
func upTo(most string) interval { return interval{most: most, positive: true} }

// fromZero allows zero and anything up to most.
func fromZero(most string) interval { return interval{most: most} }

// between allows least to most.
func between(least, most string) interval { return interval{least: least, most: most} }

// bounds are an interval in SI units.
type bounds struct {
	interval
	min, max float64
}

func (l interval) in(d *units.Dimension) bounds {
	b := bounds{interval: l, max: units.MustParse(l.most, d)}
	if l.least != "" {
		b.min = units.MustParse(l.least, d)
	}
	return b
}

// refuse says what is wrong with a value written as text, or "".
func (b bounds) refuse(value float64, text string) string {
	switch {
	case value < 0 && b.min >= 0:
		return fmt.Sprintf("%q is negative; expected %s", text, b.span())
	case value == 0 && b.positive:
		return fmt.Sprintf("%q is zero; expected %s", text, b.span())
	case value < b.min:
		return fmt.Sprintf("%q is too little; expected %s", text, b.span())
	case value > b.max:
		return fmt.Sprintf("%q is too much; expected %s", text, b.span())
	}
	return ""
}

func (b bounds) span() string {
	switch {
	case b.positive:
		return "more than 0 and at most " + b.most
	case b.least == "":
		return "0 to " + b.most
	}
	return b.least + " to " + b.most
}

// scalar reads a single value.
func scalar[T any](expect string, read func(v value, text string, into *T)) reader[T] {
	return reader[T]{expect: expect, read: func(v value, into *T) {
		if text, ok := v.text(expect); ok {
			read(v, text, into)
		}
	}}
}

// then is r with a step after it has read.
func (r reader[T]) then(more func(v value, into *T)) reader[T] {
	read := r.read
	r.read = func(v value, into *T) {
		read(v, into)
		more(v, into)
	}
	return r
}

// walked is r with a way to yield what it has read.
func (r reader[T]) walked(walk func(w *walk, path Path, from *T)) reader[T] {
	r.walk = walk
	return r
}

// quantity reads a Given.
func quantity[T any, U ~float64](get func(*T) *Given[U], l interval) reader[T] {
	return measured(get, l, units.Of[U](), "")
}

// plainRatio reads a Given that is written as a number without unit.
func plainRatio[T any](get func(*T) *Given[units.Share], l interval) reader[T] {
	return measured(get, l, units.Ratio, "")
}

// position reads a distance along the rod, with or without the words that say
// from which end.
func position[T any](get func(*T) *Given[units.Length], l interval, from string) reader[T] {
	return measured(get, l, units.Of[units.Length](), from)
}

func measured[T any, U ~float64](get func(*T) *Given[U], l interval, d *units.Dimension, from string) reader[T] {
	b := l.in(d)
	r := scalar(d.Expected(), func(v value, text string, into *T) {
		if si, ok := v.measure(text, b, d, from); ok {
			*get(into) = Given[U]{Value: U(si), Text: text, Pos: v.pos()}
		}
	})
	r.mix = func(into, a, b *T, way float64) {
		if *get(into) = *get(a); get(a).Set() && get(b).Set() {
			*get(into) = Between(*get(a), *get(b), way)
		}
	}
	return r.walked(func(w *walk, path Path, from *T) { given(w, path, *get(from)) })
}

// measure reads text as a quantity within b, and notes a fault if it is not.
func (v value) measure(text string, b bounds, d *units.Dimension, from string) (float64, bool) {
	bare, err := cutOrigin(text, from)
	var si float64
	if err == nil {
		si, err = units.Parse(bare, d)
	}
	if err != nil {
		v.fault("%v", err)
		return 0, false
	}
	if msg := b.refuse(si, text); msg != "" {
		v.fault("%s", msg)
		return 0, false
	}
	return si, true
}

// cutOrigin removes "from butt" or "from tip", whichever from names, from a position. If
// from is "", neither may be there.
func cutOrigin(text, from string) (string, error) {
	bare, origin, ok := strings.Cut(text, " from ")
	origin = strings.TrimPrefix(strings.TrimSpace(origin), "the ")
	switch {
	case !ok:
		return text, nil
	case from == "":
		return "", fmt.Errorf("%q says from where; expected the plain length", spelling.Shorten(text))
	case origin != from:
		return "", fmt.Errorf("%q is measured from the %s; expected it from the %s", spelling.Shorten(text), spelling.Shorten(origin), from)
	}
	return bare, nil
}

// word reads a Word.
func word[T any](get func(*T) *Word) reader[T] {
	return scalar("a word", func(v value, text string, into *T) {
		*get(into) = Word{text, v.pos()}
	}).walked(func(w *walk, path Path, from *T) { w.word(path, *get(from)) })
}

// name reads a Word that others refer to and that stands in paths.
func name[T any](get func(*T) *Word) reader[T] {
	return word(get).then(func(v value, into *T) {
		if w := get(into); !v.nameable(w.Text) {
			*w = Word{}
		}
	})
}

// nameable checks that text may be a name: it stands in paths, which part names
// by brackets and the plus sign, and in lists of one line each.
func (v value) nameable(text string) bool {
	if strings.ContainsFunc(text, unicode.IsControl) {
		v.fault("%q runs over several lines; a name is one line", spelling.Shorten(text))
		return false
	}
	if i := strings.IndexAny(text, "[]+"); i >= 0 {
		v.fault("%q has a %q, which a name may not have", spelling.Shorten(text), text[i:i+1])
		return false
	}
	return true
}

// choice reads one of a few words.
func choice[T any, S ~string](get func(*T) *S, words ...S) reader[T] {
	known := make([]string, len(words))
	for i, w := range words {
		known[i] = string(w)
	}
	expect := spelling.List(known, "or")
	return scalar(expect, func(v value, text string, into *T) {
		if !slices.Contains(known, text) {
			v.fault("%q is unknown; expected %s", spelling.Shorten(text), expect)
			return
		}
		*get(into) = S(text)
	}).walked(func(w *walk, path Path, from *T) { w.text(path, string(*get(from)), w.pos) })
}

// truth reads true or false.
func truth[T any](get func(*T) *bool) reader[T] {
	return choice(func(t *T) *string { return new(string) }, "true", "false").then(func(v value, into *T) {
		*get(into) = strings.TrimSpace(v.node.Value) == "true"
	}).walked(func(w *walk, path Path, from *T) {
		if *get(from) {
			w.text(path, "true", w.pos)
		}
	})
}

// count reads a whole number from least to most.
func count[T any](get func(*T) *int, least, most int) reader[T] {
	expect := fmt.Sprintf("a whole number from %d to %d", least, most)
	return scalar(expect, func(v value, text string, into *T) {
		n, err := strconv.Atoi(text)
		if err != nil || n < least || n > most {
			v.fault("%q is not %s", spelling.Shorten(text), expect)
			return
		}
		*get(into) = n
	}).walked(func(w *walk, path Path, from *T) {
		if n := *get(from); n >= least {
			w.number(path, float64(n))
		}
	})
}

// number reads a plain number.
func number[T any](get func(*T) *float64, l interval) reader[T] {
	return amount(get, l, units.Ratio)
}

// amount reads a quantity and keeps only its value.
func amount[T any](get func(*T) *float64, l interval, d *units.Dimension) reader[T] {
	b := l.in(d)
	return scalar(d.Expected(), func(v value, text string, into *T) {
		if si, ok := v.measure(text, b, d, ""); ok {
			*get(into) = si
		}
	}).walked(func(w *walk, path Path, from *T) { w.number(path, *get(from)) })
}

// placed is r and notes where its value was written.
func placed[T any](r reader[T], pos func(*T) *Pos) reader[T] {
	return r.then(func(v value, into *T) { *pos(into) = v.pos() })
}

// nested reads a map of fixed keys.
func nested[T, U any](get func(*T) *U, tab *table[U]) reader[T] {
	return reader[T]{
		expect: cmp.Or(tab.plain.expect, tab.example),
		read:   func(v value, into *T) { tab.read(v, get(into)) },
		walk:   func(w *walk, path Path, from *T) { tab.walk(w, path, get(from)) },
		mix:    func(into, a, b *T, way float64) { tab.mix(get(into), get(a), get(b), way) },
	}
}

// block reads a map of fixed keys into a U that stays nil if there is no such map.
func block[T, U any](get func(*T) **U, tab *table[U]) reader[T] {
	return reader[T]{
		expect: tab.example,
		read: func(v value, into *T) {
			*get(into) = new(U)
			tab.read(v, *get(into))
		},
		walk: func(w *walk, path Path, from *T) {
			if at := *get(from); at != nil {
				tab.walk(w, path, at)
			}
		},
		mix: func(into, a, b *T, way float64) {
			if *get(into) = *get(a); *get(a) != nil && *get(b) != nil {
				u := **get(a)
				tab.mix(&u, *get(a), *get(b), way)
				*get(into) = &u
			}
		},
	}
}
