package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/catalogue/visible"
	"rodlore/evaluate"
	"rodlore/evaluate/photo"
	"rodlore/models"
	"rodlore/models/units"
)

// benchOptions are what is said of a rod that was measured, as it was typed.
type benchOptions struct {
	of, rod, bench, date, load string
	blank                      bool // it was the bare blank of the draft
}

func (o *benchOptions) flags(f *pflag.FlagSet) {
	f.StringVar(&o.rod, "rod", "", "the `number` or name of the rod")
	f.StringVar(&o.bench, "bench", "", "`name` of the file of bench/, without .yaml; that of the model and the rod if not given")
	f.StringVar(&o.date, "date", "", "the `day` it was measured; today if not given")
	f.StringVar(&o.load, "load", "", "the `load` that hung from the tip")
}

// traceOptions are what is said of a photograph, as it was typed.
type traceOptions struct {
	benchOptions
	marks, apart, from, points, size string
	pixels                           float64
	stored                           bool
}

func newTrace(p *program) *cobra.Command {
	var o traceOptions
	cmd := &cobra.Command{
		Use:   "trace [PHOTO] --of MODEL[@REV] --points POSITIONS",
		Short: "write down the bend of a rod off a photograph",
		Long: `Turns positions in a photograph of a bent rod into a reading of bench/, from
which "fit" learns where the rod bends. Of the picture, a JPEG or PNG file, only
the size and which way up it is are read; the positions are yours, in pixels to
the right and down from the upper left corner of the picture as it is shown.

Hold the butt level and hang a load from the tip ring. Put two marks on the line
of the butt, the first at the front of the hold and the second far out on a
level string or lath, and measure how far they are apart. Photograph it square,
from far off, the rod in the middle of the picture. Then give all of

  --marks "412,1210 3120,1195" --apart 1800mm --points "1205,1290 1913,1478"

The ± of the points follows from the pixels and the marks. What the lens adds,
and a camera that did not look square at the rod, is not in it: where you doubt
them, write a larger "within:" into the file.`,
		Example: `  rodlore trace bend.jpg --of rill-7@2026 --rod 0160 --load 80g --marks …
  rodlore trace bend.jpg --of gull-9 --blank --load 100g --marks …`,
		Args: wants(0, 1, "one photograph"),
		RunE: p.onDay(&o.date, func(_ context.Context, r *catalogue.Range, args []string, d models.Date) error {
			return p.trace(r, strings.Join(args, ""), o, d)
		}),
	}
	f := cmd.Flags()
	o.flags(f)
	f.StringVar(&o.of, "of", "", "the `model` of the rod, and the revision that it was built to")
	f.BoolVar(&o.blank, "blank", false, "it was the bare blank of the draft: write it there, under blank:")
	f.StringVar(&o.marks, "marks", "", "`positions` of the two marks, the one nearer the butt end first")
	f.StringVar(&o.apart, "apart", "", "the `distance` of the marks, such as \"1800 mm ± 1 mm\"")
	f.StringVar(&o.from, "from", "0 mm", "`distance` of the first mark from the front of the hold, towards the tip; -400mm lies on the butt")
	f.StringVar(&o.points, "points", "", "`positions` of points along the bent blank")
	f.Float64Var(&o.pixels, "pixels", 1, "standard deviation, in `pixels`, that a position was read to")
	f.StringVar(&o.size, "size", "", "`pixels` across and down, instead of the photograph, such as 4032x3024")
	f.BoolVar(&o.stored, "stored", false, "the positions are in the picture as stored, which may lie on its side")
	cobra.CheckErr(cmd.RegisterFlagCompletionFunc("of", p.completeRevisions))
	return cmd
}

// positions reads positions such as "412,1210 3120,1195".
func positions(option, text string) ([]photo.Position, error) {
	var list []photo.Position
	for _, one := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ';' || r == '\n' || r == '\t' }) {
		right, down, both := strings.Cut(one, ",")
		x, errX := strconv.ParseFloat(right, 64)
		y, errY := strconv.ParseFloat(down, 64)
		if !both || errX != nil || errY != nil || math.IsNaN(x+y) || math.IsInf(x+y, 0) {
			return nil, misuseOf(option, "%q is no position; expected pixels to the right and down, such as 412,1210", one)
		}
		list = append(list, photo.Position{X: x, Y: y})
	}
	return list, nil
}

// setting is a photograph with what was said of it, read.
type setting struct {
	picture photo.Picture
	marks   photo.Marks
	points  []photo.Position
}

func (o traceOptions) setting(file string) (*setting, error) {
	var s setting
	var err error
	if s.marks, err = o.readMarks(); err != nil {
		return nil, err
	}
	if s.points, err = positions("points", o.points); err != nil {
		return nil, err
	}
	if len(s.points) == 0 {
		return nil, misuse("say where points of the bent blank are with --points \"X,Y X,Y\"")
	}
	if o.pixels <= 0 || o.pixels > 1000 {
		return nil, misuseOf("pixels", "%g is no deviation; expected more than 0, such as 1", o.pixels)
	}
	if o.size != "" && file == "" {
		if _, err := fmt.Sscanf(o.size, "%dx%d", &s.picture.Width, &s.picture.Height); err != nil || o.stored {
			return nil, misuseOf("size", "%q is no size of a picture as it is shown, such as 4032x3024", o.size)
		}
		s.picture.Turned = 1
		return &s, s.place(false)
	}
	if file == "" {
		return nil, misuse("name the photograph, or say with --size how many pixels it has")
	}
	if info, err := os.Stat(file); err == nil && !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is no file", file) // a pipe would be waited for
	}
	f, err := os.Open(file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if s.picture, err = photo.Look(f); err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	return &s, s.place(o.stored)
}

// place brings the positions into the picture as it is shown, where they must lie.
func (s *setting) place(stored bool) error {
	all := []*photo.Position{&s.marks.First, &s.marks.Second}
	for i := range s.points {
		all = append(all, &s.points[i])
	}
	for i, at := range all {
		given := *at
		if stored {
			*at = s.picture.Shown(given)
		}
		if s.picture.Holds(*at) {
			continue
		}
		what, turned := fmt.Sprintf("point %d", i-1), ""
		if i < 2 {
			what = "the " + ordinal(i+1) + " mark"
		}
		if s.picture.Turned != 1 && !stored {
			turned = "; it is stored otherwise, and --stored takes positions in that"
		}
		return fmt.Errorf("%s, %g,%g, lies outside the picture, which is %d × %d pixels as it is shown%s", what, given.X, given.Y, s.picture.Width, s.picture.Height, turned)
	}
	return nil
}

func (o traceOptions) readMarks() (m photo.Marks, err error) {
	marks, err := positions("marks", o.marks)
	switch {
	case err != nil:
		return m, err
	case len(marks) != 2:
		return m, misuseOf("marks", "%s; expected two, such as \"412,1210 3120,1195\"", count(len(marks), "position"))
	case o.apart == "":
		return m, misuse("say how far the marks are apart with --apart, such as --apart \"1800 mm\"")
	}
	m.First, m.Second = marks[0], marks[1]
	apart, by, _ := strings.Cut(o.apart, "±")
	err = cmp.Or(
		readInto[units.Length]("apart", strings.TrimSpace(apart), &m.Apart),
		readInto[units.Length]("apart", cmp.Or(strings.TrimSpace(by), "1 mm"), &m.ApartBy),
		readInto[units.Length]("from", o.from, &m.From),
	)
	if err != nil {
		return m, err
	}
	if m.Apart <= 0 || m.ApartBy < 0 {
		return m, misuseOf("apart", "%q is no distance", o.apart)
	}
	return m, nil
}

// traceEntry is a trace as a file has it.
func traceEntry(t *photo.Traced, load string) []models.Pair {
	mm := func(m float64) string { return strconv.FormatFloat(math.Round(1e4*m)/10, 'f', -1, 64) + " mm" }
	points := say.Each(t.Places, func(at photo.Place) []models.Pair {
		return []models.Pair{{Key: "x", Value: mm(at.X)}, {Key: "y", Value: mm(at.Y)}}
	})
	return []models.Pair{{Key: string(models.TraceMeasure), Maps: points}, {Key: "load", Value: load}, {Key: "within", Value: mm(max(t.Within, 1e-4))}}
}

func (p *program) trace(r *catalogue.Range, file string, o traceOptions, d models.Date) error {
	switch {
	case o.of == "":
		return misuse("say which rod it was with --of MODEL@LABEL, or --of MODEL for the draft")
	case o.load == "":
		return misuse("say what hung from the tip with --load, such as --load 200g")
	case o.blank && (strings.Contains(o.of, "@") || o.rod+o.bench != ""):
		return misuseOf("blank", "goes into the draft, so with a model alone, and no --rod or --bench")
	case !o.blank && o.rod == "":
		return misuse("say which rod it was with --rod, by its number or a name; a bare blank that was bought goes with --blank")
	}
	if file != "" {
		file = p.at(file)
	}
	s, err := o.setting(file)
	if err != nil {
		return err
	}
	traced, err := s.marks.Trace(s.points, o.pixels)
	if err != nil {
		return fmt.Errorf("%s: %w", cmp.Or(file, "the photograph"), err)
	}
	of, into, err := p.putReading(r, o.benchOptions, d, traceEntry(traced, o.load))
	if err != nil {
		return err
	}
	return p.show(func() object {
		return object{
			{"file", into}, {"picture", object{{"width", s.picture.Width}, {"height", s.picture.Height}, {"pixel", traced.Pixel}}},
			{"points", say.Each(traced.Places, func(at photo.Place) object { return object{{"x", at.X}, {"y", at.Y}} })}, // from the front of the hold and below the line of the butt
			{"within", traced.Within},
		}
	}, func() { p.showTrace(of, traced, into) })
}

// putReading puts a reading into the file of bench/ of a rod, or into the draft where it
// is of the bare blank. It gives the revision that the rod was built to, and the file.
func (p *program) putReading(r *catalogue.Range, o benchOptions, d models.Date, entry []models.Pair) (of subject, file string, err error) {
	rev, err := sound(r.FindArg(o.of))
	if err != nil {
		return of, "", err
	}
	if of, err = subjectOf(r, rev); err != nil {
		return of, "", err
	}
	sheet, err := o.sheet(of, d, entry)
	if err != nil {
		return of, "", err
	}
	if o.blank {
		file, err = p.traceBlank(rev, entry)
		return of, file, err
	}
	return of, sheet.file, p.traceRod(sheet, entry)
}

// traceSheet is a file of bench/ with a trace and nothing else.
type traceSheet struct {
	file    string
	content []byte
	bench   *models.Bench
}

// sheet is the trace in a file of its own, or why it cannot be of the rod.
func (o benchOptions) sheet(rev subject, d models.Date, entry []models.Pair) (*traceSheet, error) {
	head := []models.Pair{{Key: "model", Value: rev.Model}, {Key: "rod", Value: cmp.Or(o.rod, "blank")}, {Key: "date", Value: d.Text}}
	if rev.State != "" {
		_, asked, _ := strings.Cut(o.of, "@")
		head = append(head, models.Pair{Key: "of", Value: recordedAs(rev.Revision, asked)})
	}
	name := cmp.Or(o.bench, rev.Model+"-"+o.rod)
	s := &traceSheet{file: catalogue.BenchFile(name)}
	if why := catalogue.Unfit(s.file); why != "" || strings.Contains(name, "/") {
		return nil, misuse("no file can be called %q; give it another name with --bench", name)
	}
	var err error
	if s.content, err = models.Append(s.file, models.Begin(head), "measured", entry); err != nil {
		return nil, err
	}
	if s.bench, err = models.ParseBench(s.file, s.content); err != nil {
		var faults models.Faults
		if errors.As(err, &faults) {
			option := keyOf(faults[0])
			if option == entry[0].Key { // the reading goes by what it is of
				option = "reading"
			}
			return nil, misuseOf(option, "%s", faults[0].Msg)
		}
		return nil, err
	}
	spec := rev.Spec()
	if o.blank {
		spec = evaluate.BareBlank(spec)
	}
	if _, err = evaluate.Readings(s.bench, spec, rev.set); err != nil {
		err = errors.Unwrap(err) // without its place in a file that is not there
	}
	return s, err
}

// traceBlank puts a trace of the bare blank into the draft.
func (p *program) traceBlank(rev *catalogue.Revision, entry []models.Pair) (file string, err error) {
	file = rev.Spec().File
	if !rev.Spec().OfBought() {
		return "", fmt.Errorf("%s: no section of it is bought; what is measured of a rod goes into a file of bench/, without --blank", file)
	}
	return file, writeRecord(p, record{file: file, list: "blank.measured", entries: [][]models.Pair{entry}}, models.ParseModel)
}

// traceRod puts a trace into the file of bench/ of its rod, which is begun where
// there is none.
func (p *program) traceRod(s *traceSheet, entry []models.Pair) error {
	release, err := p.files().Hold(path.Dir(s.file))
	if err != nil {
		return err
	}
	defer release()
	src, err := p.files().Read(s.file)
	if errors.Is(err, fs.ErrNotExist) {
		return p.files().Create(s.file, s.content)
	}
	if err != nil {
		return err
	}
	there, err := models.ParseBench(s.file, src)
	if err != nil {
		return err
	}
	if there.Model.Text != s.bench.Model.Text || there.Rod.Text != s.bench.Rod.Text || there.Of.Text != s.bench.Of.Text {
		return fmt.Errorf("%s is of %s, rod %s, of %q; name another file with --bench, or that rod and revision with --rod and --of",
			s.file, there.Model, there.Rod, there.Of)
	}
	if models.Holds(src, entry) {
		what := "reading"
		if entry[0].Maps != nil {
			what = "trace"
		}
		return fmt.Errorf("%s has this %s already; nothing written", s.file, what)
	}
	return writeRecord(p, record{file: s.file, list: "measured", entries: [][]models.Pair{entry}}, models.ParseBench)
}

// showTrace tells the points and how well they are known.
func (p *printer) showTrace(of subject, t *photo.Traced, file string) {
	d := of.display().Single("")
	points := newTable(words("point"), numbers("from the hold"), numbers("below the butt"))
	for i, at := range t.Places {
		points.add(strconv.Itoa(i+1), d.Value("", "m", at.X), d.Value("", "m", at.Y))
	}
	p.print("", points)
	p.paragraph("Each to ± %s, as far as pixels of %.2f mm and the marks go.", d.Value("", "m", t.Within), 1e3*t.Pixel)
	p.paragraph("%s", say.English().Say("cautions.weights.text"))
	p.println()
	p.println("wrote " + file + "; look at it, and at what it tells:")
	if strings.HasPrefix(file, "bench/") {
		p.println("  rodlore fit " + visible.Arg(of.Model) + " --bench " + visible.Arg(strings.TrimSuffix(path.Base(file), ".yaml")))
	} else {
		p.println("  rodlore figures " + visible.Arg(of.Model) + " --explain")
	}
}
