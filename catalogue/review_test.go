package catalogue

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/models"
)

// soundModel is a model that nothing speaks against once it was measured and
// looked at.
func soundModel(rings ...string) string {
	m := testModel("Brook", rings...)
	m = strings.Replace(m, "length: 2 m\nsections", "line: {diameter: 0.12 mm, breaks: 1 kg}\nlength: 2 m\nsections", 1)
	return m + "wants:\n  weight: at most 150 g\n  rings: 1 to 4\n"
}

// soundRange is a range with one model, measured and looked at, that was never
// on sale.
func soundRange(t *testing.T) *memory {
	t.Helper()
	m := newMemory()
	prices := strings.NewReplacer("mass: ", "price: 2, mass: ")
	m.then(Message("the first one", "A rod for brooks."), map[string]string{
		rangeFile: "maker: Test Rods\n", partsFile: prices.Replace(testParts), materialsFile: testMaterials,
		"models/brook.yaml": soundModel("low-6@250 mm", "low-6@600 mm", "low-12@1100 mm"),
	})
	rev, figs := m.figures(t)
	weight, _ := figs.Get("weight")
	m.working["bench/brook-1.yaml"] = fmt.Sprintf("model: brook\nrod: 1\ndate: 2021-03-02\nof: %s\nmeasured:\n  - {weight: %.1f g}\n", rev.ShortID(), 1e3*weight.Value)
	m.tickAll(t)
	return m
}

// figures are brook as it stands and its figures.
func (m *memory) figures(t *testing.T) (*Revision, *evaluate.Figures) {
	t.Helper()
	r := m.open(t)
	rev, err := r.Draft("brook")
	if err != nil {
		t.Fatal(err)
	}
	figs, err := r.FiguresWithTolerances(t.Context(), rev)
	if err != nil {
		t.Fatal(err)
	}
	return rev, figs
}

// tickAll ticks every check by hand of brook as it stands.
func (m *memory) tickAll(t *testing.T) {
	t.Helper()
	r := m.open(t)
	rev, err := r.Draft("brook")
	if err != nil {
		t.Fatal(err)
	}
	checks, err := r.ByHand(rev)
	if err != nil {
		t.Fatal(err)
	}
	ticked := "ticked:\n"
	for _, c := range checks {
		ticked += fmt.Sprintf("  - {check: %s, revision: %s, date: 2021-04-01, by: MK}\n", c.Check, rev.ShortID())
	}
	m.working[ReviewFile("brook")] = ticked
}

func reviewOf(t *testing.T, m *memory) *Review {
	t.Helper()
	r := m.open(t)
	rev, err := r.Draft("brook")
	if err != nil {
		t.Fatal(err)
	}
	v, err := r.Review(t.Context(), rev)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestNothingAgainstASoundRod(t *testing.T) {
	v := reviewOf(t, soundRange(t))
	if v.Verdict() != Fit || len(v.Reasons) > 0 {
		t.Errorf("verdict %q, for %+v", v.Verdict(), v.Reasons)
	}
	if v.Since != nil || len(v.Sights()) > 0 {
		t.Errorf("there is no earlier release, and it is compared with %+v", v.Since)
	}
}

// set gives a figure of the review another value.
func (v *Review) set(key string, value float64) {
	i := slices.IndexFunc(v.Figures.List, func(f evaluate.Figure) bool { return f.Key == key })
	v.Figures.List[i].Value = value
}

// TestRules holds every rule from either side of its limit.
func TestRules(t *testing.T) {
	sight := func(size float64) *Step {
		return &Step{Revision: &Revision{}, Against: &Revision{Labels: []string{"2020"}}, sights: func() []diffing.Sight {
			return []diffing.Sight{{Aspect: diffing.RingCount, Size: size, Unit: "1", Limit: 1, Own: true}}
		}}
	}
	for _, tc := range []struct {
		name   string
		change func(v *Review)
		want   string // rule of the one reason; "" for none
		grave  bool
		says   string
	}{
		{"half would do", func(v *Review) { v.Wants[0].Share = 0.5 }, "want", false, "rods=0.5"},
		{"fewer than half", func(v *Review) { v.Wants[0].Share = 0.499 }, "want", true, "figure=weight rods=0.499 value="},
		{"nineteen in twenty", func(v *Review) { v.Wants[0].Share = 0.95 }, "", false, ""},
		{"fewer than that", func(v *Review) { v.Wants[0].Share = 0.949 }, "want", false, "rods=0.949"},
		{"no scatter known", func(v *Review) { v.Wants[0].Share = math.NaN() }, "no want", false, "reasons.no scatter"},
		{"no such figure", func(v *Review) { v.Wants[0].Known, v.Wants[0].Share = false, math.NaN() }, "no want", false, "reasons.no figure"},
		{"no wants", func(v *Review) { v.Wants = nil }, "no want", false, "reasons.no want"},
		{"a step at its limit", func(v *Review) { v.Since = sight(1) }, "", false, ""},
		{"a step over it", func(v *Review) { v.Since = sight(-2) }, "step", true, "reasons.step over own label=2020 limit=1 sight=ring count -2"},
		{"the line on the blank below", func(v *Review) { v.set("line-touch", 0.035) }, "line on blank", true, "reasons.line below length=35 mm"},
		{"the line on the blank on top", func(v *Review) {
			v.set("line-touch", 0.035)
			v.reel(models.Multiplier)
		}, "line on blank", false, "reasons.line on top length=35 mm"},
		{"the turn shared", func(v *Review) { v.set("ring-turn-spread", 2) }, "", false, ""},
		{"the turn not shared", func(v *Review) { v.set("ring-turn-spread", 2.1) }, "ring turn", false, "times=2.10 times"},
		{"the limit below the test curve", func(v *Review) { v.set("load-limit", 1); v.set("test-curve", 1.01) }, "test curve", true, "limit="},
		{"the limit little above", func(v *Review) { v.set("load-limit", 1.24); v.set("test-curve", 1) }, "test curve", false, "limit="},
		{"the limit well above", func(v *Review) { v.set("load-limit", 1.25); v.set("test-curve", 1) }, "", false, ""},
		{"a line as strong as the rod", func(v *Review) { v.Limits.Line = 1.49 * v.Limits.Lifts[0].Pull }, "", false, ""},
		{"a far stronger line", func(v *Review) { v.Limits.Line = 1.5 * v.Limits.Lifts[0].Pull }, "line strength", false, "angle=30.0°"},
		{"no line", func(v *Review) { v.Limits.Line = 0 }, "no strength", false, "reasons.no line strength"},
		{"no limits", func(v *Review) { v.Limits, v.NoLimits = nil, errors.New("no strain limit") }, "no strength", false, "no strain limit"},
		{"nothing measured", func(v *Review) { v.Measured = &Measurements{} }, "not measured", false, "reasons.not measured"},
		{"measured off", func(v *Review) { v.measure(t, "weight", 5) }, "measured", false, "off=5.0"},
		{"measured a little off", func(v *Review) { v.measure(t, "weight", 1.9) }, "", false, ""},
		{"measured off either way", func(v *Review) { v.measure(t, "recovery", -2.5) }, "measured", false, "off=2.5"},
		{"one of several a little off", func(v *Review) {
			v.measure(t, "weight", 0, 0, 0, 0, 2.2)
		}, "", false, ""},
		{"measured and not wanted", func(v *Review) {
			v.Wants[0].Max = v.Measured.List[0].Value - 1e-6
		}, "measured want", false, "rod=1"},
		{"checks open", func(v *Review) { v.ByHand[0].Tick, v.ByHand[2].Tick = nil, nil }, "by hand", false, "checks=tip ring, inserts"},
		{"not saved", func(v *Review) { v.Status = Draft }, "not saved", false, "reasons.not saved"},
		{"no reason", func(v *Review) { v.Why = "" }, "no reason", false, "reasons.no reason"},
		{"no words", func(v *Review) { v.Tell = "" }, "no words", false, "reasons.no words"},
		{"no price", func(v *Review) { v.Unpriced = []string{"low-6", "cap-24"} }, "no price", false, "parts=low-6, cap-24"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			v := reviewOf(t, soundRange(t))
			tc.change(v)
			v.Reasons = judge(v)
			if tc.want == "" {
				if v.Verdict() != Fit {
					t.Errorf("verdict %q, for %+v", v.Verdict(), v.Reasons)
				}
				return
			}
			if len(v.Reasons) != 1 {
				t.Fatalf("reasons %+v, want one of rule %q", v.Reasons, tc.want)
			}
			verdict := WithReservations
			if tc.grave {
				verdict = NotFit
			}
			if got := v.Reasons[0]; got.Rule != tc.want || got.Grave != tc.grave || !strings.Contains(told(got.Note), tc.says) || v.Verdict() != verdict {
				t.Errorf("verdict %q for %+v, want %q by rule %q, saying %q", v.Verdict(), got, verdict, tc.want, tc.says)
			}
		})
	}
}

// reel gives the rod another reel.
func (v *Review) reel(kind models.ReelKind) {
	spec, m := *v.Spec(), *v.Spec().Model
	m.Reel.Kind, spec.Model = kind, &m
	rev := *v.Revision
	rev.content, v.Revision = contentOf(&resolved{spec: &spec}), &rev
}

// measure gives the rod readings so many standard deviations off a figure.
func (v *Review) measure(t *testing.T, key string, off ...float64) {
	t.Helper()
	f, ok := v.Figures.Get(key)
	if !ok {
		t.Fatalf("no %s", key)
	}
	v.Measured.List = nil
	for _, o := range off {
		v.Measured.List = append(v.Measured.List, Measurement{"1", "2021-03-02", key, f.Value + o*f.Tolerance, 0})
	}
}

// What a review is made of is found in the range.
func TestReviewFinds(t *testing.T) {
	for _, tc := range []struct {
		name   string
		change func(m *memory)
		rules  []string
	}{
		{"a part without price", func(m *memory) {
			m.working[partsFile] = strings.Replace(m.working[partsFile], "price: 2, mass: 0.9", "mass: 0.9", 1)
		},
			[]string{"not saved", "no price"}},
		{"a heavier ring undoes the ticks", func(m *memory) {
			m.working[partsFile] = strings.Replace(m.working[partsFile], "mass: 0.9 g", "mass: 0.95 g", 1)
		},
			[]string{"not measured", "by hand", "not saved"}},
		{"a comment undoes nothing", func(m *memory) { m.working["models/brook.yaml"] += "# tidy\n" }, nil},
		{"a check of the range's own", func(m *memory) { m.working[rangeFile] += "by hand:\n  - {check: hook keeper}\n" }, []string{"by hand"}},
		{"a want out of reach", func(m *memory) {
			m.working["models/brook.yaml"] = strings.Replace(m.working["models/brook.yaml"], "at most 150 g", "at most 50 g", 1)
		}, []string{"want", "measured want", "not saved"}},
		{"a ring too many to go", func(m *memory) {
			m.release("2021")
			m.then(Message("bare", "bare"), map[string]string{"models/brook.yaml": soundModel("low-12@1100 mm")})
		}, []string{"step", "step", "not measured", "by hand"}},
		{"limits of zero", func(m *memory) {
			m.release("2021")
			m.then(Message("a ring moved", "moved"), map[string]string{
				rangeFile: "steps: {rings: 0, butt ring moves: 0 mm}\n", "models/brook.yaml": soundModel("low-6@250 mm", "low-6@600 mm", "low-12@1101 mm")})
		}, []string{"step", "not measured", "by hand"}},
		{"a strain limit that is not there", func(m *memory) {
			m.working[materialsFile] = "carbon: {modulus: 100 GPa, density: 1550 kg/m3}\n"
		}, []string{"no strength", "not measured", "by hand", "not saved"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			m := soundRange(t)
			sheet, ticks := m.working["bench/brook-1.yaml"], m.working["reviews/brook.yaml"]
			tc.change(m)
			m.working["bench/brook-1.yaml"], m.working["reviews/brook.yaml"] = sheet, ticks
			var rules []string
			for _, reason := range reviewOf(t, m).Reasons {
				rules = append(rules, reason.Rule)
			}
			if diff := cmp.Diff(tc.rules, rules); diff != "" {
				t.Errorf("rules (-want +got):\n%s", diff)
			}
		})
	}
}

// release puts brook on sale as it was saved last.
func (m *memory) release(label string) {
	r, err := Open(context.Background(), m)
	if err != nil {
		panic(err)
	}
	rev, err := r.Find("brook", "saved")
	if err != nil {
		panic(err)
	}
	if _, err := r.Release(context.Background(), rev, ReleaseRequest{Label: label, When: m.clock, Despite: "for the test"}); err != nil {
		panic(err)
	}
}

func TestReleaseOfWhatIsNotFit(t *testing.T) {
	m := soundRange(t)
	m.then(Message("lighter", "lighter"), map[string]string{
		"models/brook.yaml": strings.Replace(m.working["models/brook.yaml"], "at most 150 g", "at most 50 g", 1)})
	r := m.open(t)
	rev, err := r.Find("brook", "saved")
	if err != nil {
		t.Fatal(err)
	}
	req := ReleaseRequest{Label: "2021", When: time.Date(2021, 4, 2, 0, 0, 0, 0, time.UTC), Despite: " \n", Word: func(r Reason) string {
		want, _ := r.Args["wanted"].(models.Want)
		return r.Key + " of " + want.Text
	}}
	v, err := r.Release(context.Background(), rev, req)
	if !errors.Is(err, ErrNotFit) || v == nil || len(m.log.Tags) > 0 {
		t.Fatalf("released with %v, %d tags", err, len(m.log.Tags))
	}
	req.Despite = "shown at the fair,\nnot sold"
	if _, err := r.Release(context.Background(), rev, req); err != nil {
		t.Fatal(err)
	}
	n, ok := readReleaseNote(m.log.Tags[0].Message)
	if !ok || n.verdict != NotFit || n.despite != "shown at the fair, not sold" || !n.reasons[0].grave || n.reasons[0].text != "reasons.want of at most 50 g" {
		t.Errorf("the note says %+v", n)
	}
}

// A reason that is not needed is not kept, as it would be read as one later.
func TestReleaseOfWhatIsFitKeepsNoDespite(t *testing.T) {
	m := soundRange(t)
	m.release("2021")
	if n, _ := readReleaseNote(m.log.Tags[0].Message); n.despite != "" || n.after != nil {
		t.Errorf("the note says %+v", n)
	}
}

func TestTickable(t *testing.T) {
	for _, tc := range []struct {
		name, check string
		is          error
		says        string
	}{
		{"one that is open", "varnish", nil, ""},
		{"a check that is none", "foot", nil, `no check by hand is called "foot"; did you mean feet?`},
		{"one that is ticked", "feet", errTicked, "by MK on 2021-04-01"},
		{"one of a rod in pieces", "joints", nil, `no check by hand is called "joints"`},
	} {
		t.Run(tc.name, func(t *testing.T) {
			m := soundRange(t)
			m.working[ReviewFile("brook")] = strings.Replace(m.working[ReviewFile("brook")], "check: varnish", "check: other", 1)
			r := m.open(t)
			rev, err := r.Draft("brook")
			if err != nil {
				t.Fatal(err)
			}
			err = r.Tickable(rev, tc.check)
			if tc.says == "" {
				if err != nil {
					t.Error(err)
				}
				return
			}
			if err == nil || !strings.Contains(err.Error(), tc.says) || tc.is != nil && !errors.Is(err, tc.is) {
				t.Errorf("error %v, want one that says %q", err, tc.says)
			}
		})
	}
}

func TestReviewsAreChecked(t *testing.T) {
	m := soundRange(t)
	m.working["reviews/broook.yaml"] = "ticked:\n  - {check: feet, revision: 53d3cc7b, date: 2026-11-07, by: MK}\n"
	m.working["reviews/brook.yaml"] += "  - {check: feet, date: 2026-11-07, by: MK}\n"
	faults, err := m.open(t).Check(t.Context())
	if err != nil || len(faults) != 2 ||
		!strings.Contains(faults[0].Error(), "ticked[11].revision: is missing") || !strings.Contains(faults[1].Error(), `no model is named "broook"; did you mean brook?`) {
		t.Errorf("faults %v, %v", faults, err)
	}
	if _, err := m.open(t).Save(context.Background(), SaveRequest{Models: []string{"brook"}, Why: "ticks"}); err == nil || !strings.Contains(err.Error(), "revision: is missing") {
		t.Errorf("saved with %v", err)
	}
}

// BenchmarkReview reviews a revision from what is saved on: reading, figures with
// tolerances, and limits.
func BenchmarkReview(b *testing.B) {
	m := twoModels()
	b.ReportAllocs()
	for b.Loop() {
		r, err := Open(context.Background(), m)
		if err != nil {
			b.Fatal(err)
		}
		rev, err := r.Draft("brook")
		if err != nil {
			b.Fatal(err)
		}
		if _, err := r.Review(b.Context(), rev); err != nil {
			b.Fatal(err)
		}
	}
}
