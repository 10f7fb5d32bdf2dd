package document

// strip is a piece of a block, as wide as its column, that is not divided
// between pages.
type strip struct {
	space  float64 // above it, mm; left out at the top of a page
	height float64 // mm, without the space
	joined bool    // stays on the page of the next one
	opens  bool    // begins a page
	head   *strip  // stands again at the top of a page that this strip begins
	// anchors are the names of the headings in it.
	anchors []string
	draw    func(x, y float64)
}

// placed is a strip on its page.
type placed struct {
	strip
	top float64 // mm from the top of the text
}

// paginate puts strips on pages that have room mm each, joined ones on one page
// as far as they fit on any.
func paginate(strips []strip, room float64) [][]placed {
	pages, y := [][]placed{nil}, 0.0
	put := func(s strip) {
		last := len(pages) - 1
		if y > 0 {
			y += s.space
		}
		pages[last] = append(pages[last], placed{s, y})
		y += s.height
	}
	for len(strips) > 0 {
		first := strips[0]
		n, need := group(strips, room)
		if y > 0 && (first.opens || y+first.space+need > room+slack) {
			pages, y = append(pages, nil), 0
			if first.head != nil {
				put(*first.head)
			}
		}
		for _, s := range strips[:n] {
			put(s)
		}
		strips = strips[n:]
	}
	return pages
}

// slack is more than rounding and less than one sees, mm.
const slack = 1e-6

// group is how many strips stay together, and their height without the space
// above. More than a page holds stays together as far as a page holds it.
func group(strips []strip, room float64) (n int, height float64) {
	height = strips[0].height
	for n = 1; n < len(strips) && strips[n-1].joined && !strips[n].opens; n++ {
		more := strips[n].space + strips[n].height
		if height+more > room {
			break
		}
		height += more
	}
	return n, height
}

// together joins strips to each other and to what follows.
func together(strips []strip) []strip {
	for i := range strips {
		strips[i].joined = true
	}
	return strips
}

// whole joins strips to each other.
func whole(strips []strip) []strip {
	together(strips)
	if len(strips) > 0 {
		strips[len(strips)-1].joined = false
	}
	return strips
}

// spaced puts space above the first of the strips.
func spaced(strips []strip, space float64) []strip {
	if len(strips) > 0 {
		strips[0].space = space
	}
	return strips
}

// spaceOf is the space above the first of the strips.
func spaceOf(strips []strip) float64 {
	if len(strips) == 0 {
		return 0
	}
	return strips[0].space
}

// indented moves strips to the right.
func indented(strips []strip, by float64) []strip {
	for i, s := range strips {
		strips[i].draw = func(x, y float64) { s.draw(x+by, y) }
	}
	return strips
}

// heightOf is the height of strips below each other.
func heightOf(strips []strip) float64 {
	var sum float64
	for i, s := range strips {
		if i > 0 {
			sum += s.space
		}
		sum += s.height
	}
	return sum
}

// blocks lays blocks out one below the other.
func (p *pdfWriter) blocks(blocks []Block, width float64) []strip {
	var strips []strip
	for _, b := range blocks {
		strips = append(strips, b.pdf(p, width)...)
	}
	return strips
}
