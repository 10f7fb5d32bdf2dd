package evaluate

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"rodlore/cmd/rodlore/demo"
	"rodlore/models"
)

// randomRod is a rod such as somebody might write: two or three sections of
// random taper, any kind of joint, reel and ring, rings set without much thought.
// The same seed gives the same rod. Parts and materials are the demo's.
func randomRod(t testing.TB, seed uint64) *models.Spec {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 0xb1a9c))
	m, err := models.ParseModel("random.yaml", []byte(randomModel(r)))
	if err != nil {
		t.Fatalf("seed %d: %v", seed, err)
	}
	parts, materials := demoShared(t)
	s, err := models.Resolve(m, parts, materials)
	if err != nil {
		t.Fatalf("seed %d: %v", seed, err)
	}
	return s
}

// demoShared are the demo's parts and materials as they stand.
func demoShared(t testing.TB) (*models.Parts, *models.Materials) {
	t.Helper()
	files := demoFiles(t)
	parts, err := models.ParseParts("parts.yaml", files["parts.yaml"])
	if err != nil {
		t.Fatal(err)
	}
	materials, err := models.ParseMaterials("materials.yaml", files["materials.yaml"])
	if err != nil {
		t.Fatal(err)
	}
	return parts, materials
}

// demoFiles are the demo's files as they stand.
func demoFiles(t testing.TB) map[string][]byte {
	t.Helper()
	states, err := demo.States()
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, state := range states {
		for path, src := range state.Files {
			files[path] = src
		}
	}
	return files
}

// mm rounds a length in mm as a spec gives it.
func mm(v float64) string { return fmt.Sprintf("%.4f mm", v) }

func randomModel(r *rand.Rand) string {
	var b strings.Builder
	between := func(from, to float64) float64 { return from + (to-from)*r.Float64() }
	pick := func(list ...string) string { return list[r.IntN(len(list))] }

	sections := 2 + r.IntN(2)
	length := between(1900, 4200)
	overlap := between(45, 120)
	kind := pick("overlap", "overlap", "spigot", "ferrule")
	each := length / float64(sections)
	if kind == "overlap" {
		each = (length + overlap*float64(sections-1)) / float64(sections)
	}
	reel := pick("fixed-spool", "multiplier", "centrepin", "fly")
	fmt.Fprintf(&b, "name: Random\nreel: {kind: %s, mass: 250 g, height: %s, spool: 45 mm}\nlength: %s\nsections:\n", reel, mm(between(30, 70)), mm(length))

	// Outsides from the butt end of the lowest section up to the tip.
	names := []string{"tip", "middle", "butt"}[:sections]
	if sections == 2 {
		names = []string{"tip", "butt"}
	}
	thin := between(1.5, 2.8)
	texts := make([]string, sections)
	for i, name := range names {
		parts := 1 + r.IntN(3)
		thick := thin + between(3.5, 6.5)
		wall := between(0.6, 0.8)
		var t strings.Builder
		fmt.Fprintf(&t, "  - name: %s\n    length: %s\n    material: %s\n    tube:\n", name, mm(each), pick("carbon-std", "carbon-mid"))
		for k := range parts + 1 {
			share := float64(k) / float64(parts)
			outside := thin + (thick-thin)*share
			if k > 0 && k < parts {
				outside += between(-0.3, 0.3)
			}
			w := wall + between(0, 0.3)*share
			if outside < 2*w { // solid
				w = outside / 2
			}
			fmt.Fprintf(&t, "      - {at: %s, outside: %s, wall: %s}\n", mm(each*share), mm(outside), mm(w))
		}
		texts[sections-1-i] = t.String()
		thin = thick - between(0, 0.4)
	}
	for _, t := range texts {
		b.WriteString(t)
	}
	b.WriteString("joints:\n")
	for i := sections - 1; i > 0; i-- {
		switch kind {
		case "overlap":
			fmt.Fprintf(&b, "  - {between: [%s, %s], kind: overlap, length: %s}\n", names[i], names[i-1], mm(overlap))
		default:
			fmt.Fprintf(&b, "  - {between: [%s, %s], kind: %s, length: %s, outside: %s, wall: 0.9 mm, material: carbon-std}\n",
				names[i], names[i-1], kind, mm(overlap), mm(between(4, 9)))
		}
	}
	seat := between(250, 650)
	low, high := "SL-8 SL-10 DL-8 DL-10 SN-4 SN-3", "DL-12 DL-16 DT-16 DT-20 SL-16"
	if reel == "multiplier" {
		low, high = "LF-10 LF-12", "LF-16 LF-20"
	}
	fmt.Fprintf(&b, "rings:\n  - {at: 0 mm, part: %s}\n", pick("T-6", "T-8", "T-12"))
	count := 4 + r.IntN(8)
	last := length - seat - between(450, 800)
	at := 0.0
	for i := range count {
		at += last / float64(count) * between(0.75, 1.25) * (0.5 + (float64(i)+0.5)/float64(count))
		if at > last {
			break
		}
		from := low
		if i >= count*2/3 {
			from = high
		}
		fmt.Fprintf(&b, "  - {at: %s, part: %s}\n", mm(at), pick(strings.Fields(from)...))
	}
	fmt.Fprintf(&b, "handle:\n  seat: {at: %s, part: pipe-16}\n  grips:\n    - {from: 0 mm, to: 120 mm, diameter: 27 mm, material: cork-fine}\n    - {from: %s, to: %s, diameter: 26 mm, ends: 19 mm, material: cork-flor}\n",
		mm(seat), mm(seat+60), mm(seat+between(130, 200)))
	if pick("bare", "whipped", "whipped") == "whipped" {
		b.WriteString("finish: {thread: A, varnish: two coats}\n")
	}
	return b.String()
}
