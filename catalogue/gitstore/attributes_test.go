package gitstore

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rodlore/catalogue"
)

// A file that git would put through a filter, is to hold its own identity or is in
// another encoding is refused before anything is written, and nothing of the rest.
// Native git says what holds for a path.
func TestAttributesThatCannotBeDone(t *testing.T) {
	const spec = "models/skerry-10.yaml"
	for name, row := range map[string]struct {
		prepare func(r *repo)
		content string
		says    string // "" where it is saved
	}{
		"a filter":                    {attributed("", "*.yaml filter=crypt"), "", `the filter "crypt"`},
		"a filter for the folder":     {attributed("", "models/** filter=crypt"), "", "filter"},
		"a filter from the top":       {attributed("", "/models/*.yaml filter=crypt"), "", "filter"},
		"a filter below anything":     {attributed("", "**/skerry-*.yaml filter=crypt"), "", "filter"},
		"a filter by a class":         {attributed("", "[!a-f]kerry-10.yaml filter=crypt"), "", "filter"},
		"a filter for a quoted name":  {attributed("", `"skerry-10.yaml" filter=crypt`), "", "filter"},
		"a filter of the folder":      {attributed("models/", "*.yaml filter=crypt"), "", "filter"},
		"a filter in the repository":  {attributed(".git/info/", "*.yaml filter=crypt"), "", "filter"},
		"a filter by a macro":         {attributed("", "[attr]secret filter=crypt\n*.yaml secret"), "", "filter"},
		"a filter by a macro's macro": {attributed("", "[attr]deep filter=crypt\n[attr]secret deep\n*.yaml secret"), "", "filter"},
		"a filter of the user's": {func(r *repo) {
			file := filepath.Join(tempDir(r.t), "attributes")
			writeFile(r.t, file, "*.yaml filter=crypt\n")
			r.git("config", "core.AttributesFile", file)
		}, "", "filter"},
		"a filter by the user's folder": {func(r *repo) {
			home := tempDir(r.t)
			if err := os.Mkdir(filepath.Join(home, "git"), 0o777); err != nil {
				r.t.Fatal(err)
			}
			writeFile(r.t, filepath.Join(home, "git", "attributes"), "*.yaml filter=crypt\n")
			r.t.(*testing.T).Setenv("XDG_CONFIG_HOME", home)
		}, "", "filter"},
		"a filter in other letters": {func(r *repo) {
			r.git("config", "core.ignorecase", "true")
			attributed("", "Skerry-10.YAML filter=crypt")(r)
		}, "", "filter"},
		"a filter taken back":     {attributed("", "*.yaml filter=crypt\nskerry-10.yaml -filter"), "", ""},
		"a filter unsaid":         {attributed("", "*.yaml filter=crypt\nskerry-10.yaml !filter"), "", ""},
		"a filter for another":    {attributed("", "rill-*.yaml filter=crypt\nmodels filter=crypt\nmodels/ filter=crypt"), "", ""},
		"a filter without a name": {attributed("", "*.yaml filter"), "", ""},
		"lines that are none":     {attributed("", "*.yaml foo$bar filter=crypt\n!*.yaml filter=crypt\n"), "", ""},
		"a macro below the top":   {attributed("models/", "[attr]secret filter=crypt\n*.yaml secret"), "", ""},
		"an identity":             {attributed("", "*.yaml ident"), "# $Id: 0 $\nname: Skerry 10\n", "identity"},
		"an identity of no use":   {attributed("", "*.yaml ident"), "", ""},
		"an encoding":             {attributed("", "*.yaml working-tree-encoding=UTF-16"), "", "UTF-16"},
		"the encoding there is":   {attributed("", "*.yaml working-tree-encoding=utf-8"), "", ""},
		"nothing but the ends":    {attributed("", "*.yaml text eol=lf"), "", ""},
		"a filter that is set up": {func(r *repo) {
			r.git("config", "filter.crypt.clean", "tr a-z n-za-m")
			attributed("", "*.yaml filter=crypt")(r)
		}, "", "filter"},
		"a filter that is all names": {attributed("", "* filter=crypt"), "", "filter"},
	} {
		t.Run(name, func(t *testing.T) {
			r := newRange(t)
			row.prepare(r)
			native := r.git("check-attr", "filter", "--", spec)
			if wants := strings.Contains(row.says, "filter"); wants != strings.HasSuffix(native, ": crypt") {
				t.Errorf("git says %q", native)
			}
			content := row.content
			if content == "" {
				content = "name: Skerry 10\nlength: 10 ft\n"
			}
			r.write(spec, content)
			written := func() string { // git status would depend on when its own index was refreshed
				return r.git("count-objects", "-v") + r.head() + r.read(".git/index")
			}
			before := written()
			s := r.open()
			_, err := s.Save(context.Background(), catalogue.Save{
				Parent: r.head(), Files: map[string][]byte{spec: []byte(content)}, Message: "x",
			})
			refused := s.Refused(spec)
			if row.says == "" {
				if err != nil || refused != nil {
					t.Errorf("refused: %v, %v", err, refused)
				}
				return
			}
			wantError(t, err, row.says, spec, "git add", "git commit")
			wantError(t, refused, row.says)
			if written() != before {
				t.Error("something was written")
			}
		})
	}
}

// attributed writes a file of attributes into a folder.
func attributed(dir, lines string) func(r *repo) {
	return func(r *repo) { r.write(dir+".gitattributes", lines+"\n"); renameInfo(r, dir) }
}

// renameInfo gives the file in info its own name.
func renameInfo(r *repo, dir string) {
	if dir != ".git/info/" {
		return
	}
	if err := os.Rename(r.path(dir+".gitattributes"), r.path(dir+"attributes")); err != nil {
		r.t.Fatal(err)
	}
}
