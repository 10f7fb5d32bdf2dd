package main

import (
	"bytes"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue/pages/document"
)

// forms are how a document is written, by the ending of the file.
var forms = map[string]func(*document.Document, io.Writer) error{
	".html": (*document.Document).HTML,
	".pdf":  (*document.Document).PDF,
	".md":   (*document.Document).Markdown,
}

// formOf is the ending of a file that says its form: ".pdf".
func formOf(file string) string { return strings.ToLower(filepath.Ext(file)) }

// outFile is the file that a document goes into: that of --out or, where that is a
// folder, one of that name in it.
func (p *program) outFile(out, name string) (string, error) {
	if info, err := os.Stat(p.at(out)); err == nil && info.IsDir() {
		return filepath.Join(out, name+".html"), nil
	}
	if _, known := forms[formOf(out)]; !known {
		return "", misuseOf("out", "%q is no folder that is there, and no file of a form that can be written: .html, .pdf or .md", out)
	}
	return out, nil
}

// papers are what a document is printed on, by what is typed.
var papers = map[string]document.Paper{"a4": document.A4, "letter": document.Letter}

// paperFlag adds the option of the paper to print on.
func paperFlag(cmd *cobra.Command, paper *string) {
	names := slices.Sorted(maps.Keys(papers))
	cmd.Flags().StringVar(paper, "paper", "a4", "the `paper` to print on: "+strings.Join(names, " or "))
	completeWords(cmd, "paper", names)
}

// paperOf is the paper that was typed.
func paperOf(name string) (document.Paper, error) {
	paper, ok := papers[strings.ToLower(name)]
	if !ok {
		return paper, misuseOf("paper", "%q is neither a4 nor letter", name)
	}
	return paper, nil
}

// fileOf is one file that was written.
func fileOf(name string, content []byte) object {
	return object{{"file", name}, {"bytes", len(content)}}
}

// writeForm writes a document into a file in that form. A file of a range is refused.
func (p *program) writeForm(d *document.Document, file, form string) (object, error) {
	if formOf(file) == ".yaml" {
		return nil, misuse("%s is named like a file of a range, which no page may replace; choose another name, such as review%s", file, form)
	}
	var page bytes.Buffer
	if err := forms[form](d, &page); err != nil {
		return nil, err
	}
	return fileOf(file, page.Bytes()), writeWhole(p.at(file), page.Bytes())
}
