package demo

import (
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/tools/txtar"
)

func TestPatched(t *testing.T) {
	const text = "rings:\n  - a\n  - b\n\nfinish: c\n"
	for _, tc := range []struct {
		name, patch, want, fault string
	}{
		{name: "one line", patch: "-   - a\n+   - x\n", want: "rings:\n  - x\n  - b\n\nfinish: c\n"},
		{name: "a line fewer", patch: "-   - a\n-   - b\n+   - b\n", want: "rings:\n  - b\n\nfinish: c\n"},
		{name: "an empty line more", patch: "- rings:\n+ rings:\n+\n", want: "rings:\n\n  - a\n  - b\n\nfinish: c\n"},
		{name: "first line", patch: "- rings:\n+ eyes:\n", want: "eyes:\n  - a\n  - b\n\nfinish: c\n"},
		{name: "removal", patch: "-   - b\n-\n", want: "rings:\n  - a\nfinish: c\n"},
		{name: "two hunks", patch: "-   - a\n+   - x\n\n- finish: c\n+ finish: d\n", want: "rings:\n  - x\n  - b\n\nfinish: d\n"},
		{name: "old line missing", patch: "-   - q\n+   - x\n", fault: "not in the file:\n  - q"},
		{name: "tail of a line", patch: "- - a\n+ - x\n", fault: "not in the file"},
		{name: "old line found twice", patch: "-   - a\n+   - b\n\n-   - b\n+   - c\n", fault: "more than once"},
		{name: "not together", patch: "-   - a\n- finish: c\n+ x\n", fault: "not in the file"},
		{name: "nothing old", patch: "+ x\n", fault: `not "+ x\n"`},
		{name: "new before old", patch: "- rings:\n+ x\n-   - a\n", fault: `not "-   - a\n"`},
		{name: "no mark", patch: "rings:\n", fault: `not "rings:\n"`},
	} {
		t.Run(tc.name, func(t *testing.T) {
			got, err := patched([]byte(text), tc.patch)
			checkFault(t, err, tc.fault)
			if d := cmp.Diff(tc.want, string(got)); d != "" {
				t.Errorf("text (-want +got):\n%s", d)
			}
		})
	}
}

func TestEdited(t *testing.T) {
	before := map[string][]byte{"models/a.yaml": []byte("name: A\n")}
	for _, tc := range []struct {
		name, orders string
		want         map[string]string // "gone" stands for nil
		fault        string
	}{
		{name: "new file", orders: "-- models/b.yaml --\nname: B\n", want: map[string]string{"models/b.yaml": "name: B\n"}},
		{name: "edit", orders: "-- edit models/a.yaml --\n- name: A\n+ name: AA\n", want: map[string]string{"models/a.yaml": "name: AA\n"}},
		{
			name:   "move, then edit",
			orders: "-- move models/a.yaml models/c.yaml --\n-- edit models/c.yaml --\n- name: A\n+ name: C\n",
			want:   map[string]string{"models/a.yaml": "gone", "models/c.yaml": "name: C\n"},
		},
		{name: "edit of nothing", orders: "-- edit models/q.yaml --\n- x\n+ y\n", fault: "models/q.yaml: the old lines are not in the file"},
		{name: "unknown order", orders: "-- copy models/a.yaml models/b.yaml --\n", fault: "is not a path, nor base64, edit"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			changed, err := edited(before, txtar.Parse([]byte(tc.orders)).Files)
			checkFault(t, err, tc.fault)
			var got map[string]string
			for path, data := range changed {
				if got == nil {
					got = map[string]string{}
				}
				got[path] = string(data)
				if data == nil {
					got[path] = "gone"
				}
			}
			if d := cmp.Diff(tc.want, got); d != "" {
				t.Errorf("files (-want +got):\n%s", d)
			}
		})
	}
	if string(before["models/a.yaml"]) != "name: A\n" || len(before) != 1 {
		t.Errorf("the files given were changed: %q", before)
	}
}

func TestReplayFault(t *testing.T) {
	const date, who = "date: 2021-01-17T10:40:00+00:00\n", "author: A <a@example.org>\n"
	for _, tc := range []struct{ name, src, fault string }{
		{"no reason", date + who, "2021-01-17.txt: header wants date, author and why"},
		{"bad date", "date: 17.1.2021\n" + who + "why: x\n", `date "17.1.2021" is not such as`},
		{"unknown key", date + who + "becuase: x\n", `header "becuase: x" is not one of`},
		{"bad hunk", date + who + "why: x\n-- edit a.yaml --\n- x\n+ y\n", "2021-01-17.txt: edit a.yaml: the old lines are not in the file"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			_, _, err := replay(fstest.MapFS{"history/2021-01-17.txt": {Data: []byte(tc.src)}})
			checkFault(t, err, tc.fault)
		})
	}
}

// checkFault checks that err says want, or that there is none where want is
// empty.
func checkFault(t *testing.T, err error, want string) {
	t.Helper()
	switch {
	case want == "" && err != nil:
		t.Errorf("unexpected error: %v", err)
	case want != "" && (err == nil || !strings.Contains(err.Error(), want)):
		t.Errorf("error %v, want one that says %q", err, want)
	}
}
