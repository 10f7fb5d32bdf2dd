package main

import (
	"bufio"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/evaluate"
	"rodlore/models"
	"rodlore/models/units"
)

// blankOptions are what is known of a bought blank, as typed.
type blankOptions struct {
	is    bool
	known models.KnownBlank
	hung  string
}

func (o *blankOptions) flags(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&o.is, "blank", false, "start from a blank that you bought, by five questions or the options below")
	cmd.Flags().StringVar(&o.known.Material, "material", string(models.CarbonFamily), "the `material` of the blank: "+strings.Join(texts(models.Families), ", "))
	for _, q := range o.questions() {
		cmd.Flags().StringVar(q.answer, q.option, "", "of the blank: "+q.ask)
	}
}

// question is one thing that is asked of a blank.
type question struct {
	option, ask string
	answer      *string
	read        func(text string) error
}

func (o *blankOptions) questions() []question {
	k := &o.known
	return []question{
		{"length", "its `length`, put together, such as 9 ft", &k.Length, readAs[units.Length]},
		{"tip", "its `diameter` at the tip, such as 1.9 mm", &k.Tip, readAs[units.Length]},
		{"butt", "its `diameter` at the butt", &k.Butt, readAs[units.Length]},
		{"mass", "its `weight`, such as 118 g", &k.Mass, readAs[units.Mass]},
		{"hung", "the `drop` of the tip under a weight, such as 412 mm under 100 g, held level by the last tenth of its length", &o.hung, o.readHung},
	}
}

// check refuses options that describe a blank where none is to be made.
func (o *blankOptions) check() error {
	for _, q := range o.questions() {
		if *q.answer != "" && !o.is {
			return misuse("--%s describes a blank that you bought; add --blank", q.option)
		}
	}
	return nil
}

func readAs[U ~float64](text string) error {
	_, err := units.ParseAs[U](text)
	return err
}

func (o *blankOptions) readHung(text string) error {
	drop, load, ok := strings.Cut(text, " under ")
	if !ok {
		return fmt.Errorf("%q does not say under what; expected a drop and a load such as 412 mm under 100 g", text)
	}
	reading, _, _ := strings.Cut(drop, "±")
	err := errors.Join(readAs[units.Length](strings.TrimSpace(reading)), readAs[units.Force](load))
	if err == nil {
		o.known.Drop, o.known.Load = drop, load
	}
	return err
}

// spec is the spec of the blank as far as it is known, or why it cannot be one.
func (o *blankOptions) spec(name string, set *models.Settings) ([]byte, error) {
	known := o.known
	known.Length, known.Tip = cmp.Or(known.Length, "3 m"), cmp.Or(known.Tip, "2 mm") // any, to check others with
	src := models.StarterBlank(name, known)
	s, err := models.ParseSpec("", src, &models.Parts{}, &models.Materials{})
	var faults models.Faults
	if errors.As(err, &faults) {
		return nil, about(keyOf(faults[0]), errors.New(faults[0].Msg))
	}
	if err != nil || o.known.Load == "" {
		return src, err
	}
	return src, about("hung", goesTogether(s, set))
}

// goesTogether holds the hung weight against what a blank of that mass and those
// diameters may do.
func goesTogether(s *models.Spec, set *models.Settings) error {
	const never = 4 // standard deviations
	blank, err := evaluate.BoughtBlank(s, set)
	if err != nil {
		return fmt.Errorf("no blank of that length, mass and diameters does this; read it again, or begin anew where one of the others was a slip (%w)", err)
	}
	t := say.English().Teller(set).Narrow()
	if r := blank.Fit.Readings[0]; math.Abs(r.Off) > never {
		return fmt.Errorf("a blank of that length, mass and diameters drops about %s under %s, so %s cannot be; read it again, or begin anew where one of the others was a slip",
			t.Reading(r.Reading, r.Before), s.Blank.Measured[0].Load.Text, t.Read(r.Reading))
	}
	return nil
}

// blankSpec is the spec of a blank by options and, at a terminal, by questions.
func (p *program) blankSpec(ctx context.Context, r *catalogue.Range, name string, o *blankOptions) ([]byte, error) {
	set, err := r.Settings()
	if err != nil {
		return nil, err
	}
	var missing []string
	for _, q := range o.questions() {
		if *q.answer == "" {
			missing = append(missing, "--"+q.option)
		} else if err := q.read(*q.answer); err != nil {
			return nil, misuseOf(q.option, "%w", err)
		}
	}
	if len(missing) > 0 && (p.json || p.alone || !term.IsTerminal(int(os.Stdin.Fd()))) {
		return nil, misuseOf("blank", "what is known of the blank is incomplete; give %s too, or be asked at a terminal", strings.Join(missing, ", "))
	}
	src, err := o.spec(name, set)
	if err != nil || len(missing) == 0 {
		return src, err
	}
	lines := linesOf(os.Stdin)
	for _, q := range o.questions() {
		for *q.answer == "" {
			fmt.Fprintf(p.err, "%s: ", strings.ReplaceAll(q.ask, "`", ""))
			text, err := nextLine(ctx, lines)
			if err != nil {
				fmt.Fprintln(p.err)
				return nil, err
			}
			*q.answer = text
			if err = q.read(text); err == nil {
				src, err = o.spec(name, set)
			}
			if err != nil {
				fmt.Fprintf(p.err, "  %v\n", err)
				*q.answer = ""
			}
		}
	}
	return src, nil
}

// linesOf reads lines as they are typed, so that whoever waits for one can be
// interrupted.
func linesOf(in io.Reader) <-chan string {
	lines := make(chan string)
	go func() {
		defer close(lines)
		for s := bufio.NewScanner(in); s.Scan(); {
			lines <- strings.TrimSpace(s.Text())
		}
	}()
	return lines
}

func nextLine(ctx context.Context, lines <-chan string) (string, error) {
	select {
	case <-ctx.Done():
		return "", ctx.Err()
	case text, ok := <-lines:
		if !ok {
			return "", errors.New("no more answers; nothing was written")
		}
		return text, nil
	}
}
