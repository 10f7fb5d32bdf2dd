package results

import (
	"encoding/binary"
	"math"

	"rodlore/evaluate"
)

// encode writes figures down: numbers in 8 bytes, counts as varints, texts with
// their length, and of a spread the effects that are not 0. What inputs do to a part
// is known to far fewer digits than 4 bytes hold.
func encode(f *evaluate.Figures) []byte {
	var w writer
	w.text(f.Method)
	w.count(len(f.List))
	for _, fig := range f.List {
		w.text(fig.Key)
		w.text(fig.Unit)
		w.text(fig.Text)
		w.number(fig.Value)
		w.number(fig.Error)
		w.number(fig.Tolerance)
		w.flag(fig.Sampled)
	}
	w.count(len(f.Notes))
	for _, n := range f.Notes {
		w.text(n)
	}
	w.flag(f.Tolerances != nil)
	if f.Tolerances != nil {
		w.tolerances(f)
	}
	return w
}

func (w *writer) tolerances(f *evaluate.Figures) {
	w.count(len(f.Tolerances.Inputs))
	for _, in := range f.Tolerances.Inputs {
		w.text(string(in.ID.Kind))
		w.text(in.ID.Of)
		w.text(in.ID.Item)
		w.text(in.Name)
		w.number(in.Deviation)
		w.text(in.Unit)
	}
	for _, fig := range f.List {
		s := f.Tolerances.Spreads[fig.Key]
		w.flag(s != nil)
		if s != nil {
			w.spread(s)
		}
	}
	w.count(len(f.Tolerances.Wants))
	for _, share := range f.Tolerances.Wants {
		w.number(share)
	}
}

func (w *writer) spread(s *evaluate.Spread) {
	w.number(s.Rest)
	w.sparse(len(s.Effects), func(i int) bool { return s.Effects[i] != 0 }, func(i int) { w.number(s.Effects[i]) })
	w.count(len(s.Parts))
	for _, p := range s.Parts {
		w.number(p.Value)
		w.sparse(len(p.Plus), func(i int) bool { return p.Minus[i] != 0 || p.Plus[i] != 0 }, func(i int) {
			w.half(p.Minus[i])
			w.half(p.Plus[i])
		})
	}
	w.count(len(s.Curve))
	for _, k := range s.Curve {
		w.number(k.Part)
		w.number(k.Figure)
	}
}

// sparse writes those of n entries that there is anything of, each behind its
// number.
func (w *writer) sparse(n int, any func(i int) bool, write func(i int)) {
	there := 0
	for i := range n {
		if any(i) {
			there++
		}
	}
	w.count(there)
	for i := range n {
		if any(i) {
			w.count(i)
			write(i)
		}
	}
}

// decode reads figures back; ok is false where they make no sense.
func decode(payload []byte) (f *evaluate.Figures, ok bool) {
	r := reader{rest: payload}
	f = &evaluate.Figures{Method: r.text()}
	f.List = make([]evaluate.Figure, r.count())
	for i := range f.List {
		f.List[i] = evaluate.Figure{
			Key: r.text(), Unit: r.text(), Text: r.text(),
			Value: r.number(), Error: r.number(), Tolerance: r.number(), Sampled: r.flag(),
		}
	}
	for range r.count() {
		f.Notes = append(f.Notes, r.text())
	}
	if r.flag() {
		r.tolerances(f)
	}
	return f, !r.bad && len(r.rest) == 0
}

func (r *reader) tolerances(f *evaluate.Figures) {
	t := &evaluate.Tolerances{Inputs: make([]evaluate.Input, r.count()), Spreads: map[string]*evaluate.Spread{}}
	for i := range t.Inputs {
		t.Inputs[i] = evaluate.Input{
			ID:   evaluate.InputID{Kind: evaluate.InputKind(r.text()), Of: r.text(), Item: r.text()},
			Name: r.text(), Deviation: r.number(), Unit: r.text(),
		}
	}
	for _, fig := range f.List {
		if r.flag() {
			t.Spreads[fig.Key] = r.spread(len(t.Inputs))
		}
	}
	for range r.count() {
		t.Wants = append(t.Wants, r.number())
	}
	f.Tolerances = t
}

func (r *reader) spread(inputs int) *evaluate.Spread {
	s := &evaluate.Spread{Rest: r.number(), Effects: make([]float64, inputs)}
	r.sparse(inputs, func(i int) { s.Effects[i] = r.number() })
	s.Parts = make([]evaluate.Part, r.count())
	for j := range s.Parts {
		p := evaluate.Part{Value: r.number(), Minus: make([]float64, inputs), Plus: make([]float64, inputs)}
		r.sparse(inputs, func(i int) { p.Minus[i], p.Plus[i] = r.half(), r.half() })
		s.Parts[j] = p
	}
	for range r.count() {
		s.Curve = append(s.Curve, evaluate.Knot{Part: r.number(), Figure: r.number()})
	}
	return s
}

// sparse reads what writer.sparse wrote of n entries.
func (r *reader) sparse(n int, read func(i int)) {
	for range r.count() {
		i := r.index()
		if i >= n {
			r.bad = true
			return
		}
		read(i)
	}
}

// writer is the bytes written so far.
type writer []byte

func (w *writer) count(n int) { *w = binary.AppendUvarint(*w, uint64(n)) }

func (w *writer) number(v float64) {
	*w = binary.LittleEndian.AppendUint64(*w, math.Float64bits(v))
}

// half writes a number to 7 digits.
func (w *writer) half(v float64) {
	*w = binary.LittleEndian.AppendUint32(*w, math.Float32bits(float32(v)))
}

func (w *writer) text(s string) {
	w.count(len(s))
	*w = append(*w, s...)
}

func (w *writer) flag(yes bool) {
	b := byte(0)
	if yes {
		b = 1
	}
	*w = append(*w, b)
}

// reader is the bytes not read yet. Once something makes no sense it gives
// nothing but zeros.
type reader struct {
	rest []byte
	bad  bool
}

// take gives the next n bytes.
func (r *reader) take(n int) []byte {
	if r.bad || n > len(r.rest) {
		r.bad = true
		return nil
	}
	part := r.rest[:n]
	r.rest = r.rest[n:]
	return part
}

// index is a number that the program counted.
func (r *reader) index() int {
	v, n := binary.Uvarint(r.rest)
	if n <= 0 || v > math.MaxInt32 {
		r.bad = true
		return 0
	}
	r.take(n)
	return int(v)
}

// count is how many of something follow, which takes up a byte each at least.
func (r *reader) count() int {
	n := r.index()
	if n > len(r.rest) {
		r.bad = true
	}
	if r.bad {
		return 0
	}
	return n
}

func (r *reader) number() float64 {
	part := r.take(8)
	if part == nil {
		return 0
	}
	return math.Float64frombits(binary.LittleEndian.Uint64(part))
}

func (r *reader) half() float64 {
	part := r.take(4)
	if part == nil {
		return 0
	}
	return float64(math.Float32frombits(binary.LittleEndian.Uint32(part)))
}

func (r *reader) text() string { return string(r.take(r.count())) }

func (r *reader) flag() bool {
	part := r.take(1)
	return part != nil && part[0] == 1
}
