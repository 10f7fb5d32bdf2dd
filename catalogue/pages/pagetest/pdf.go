package pagetest

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"
)

// PDFText is the text of a PDF as pdftotext of poppler reads it, laid out as on
// paper.
func PDFText(t testing.TB, pdf []byte) string {
	t.Helper()
	tool := program(t, "pdftotext")
	out, err := exec.Command(tool, "-layout", stored(t, "page.pdf", pdf), "-").CombinedOutput()
	if err != nil {
		t.Fatalf("pdftotext: %v\n%s", err, out)
	}
	return string(out)
}

// PageSize is one page of a PDF, in mm.
type PageSize struct{ Width, Height float64 }

var pageSize = regexp.MustCompile(`Page +\d+ size: +([\d.]+) x ([\d.]+) pts`)

// PDFPages are the sizes of the pages of a PDF, as pdfinfo of poppler reads them.
func PDFPages(t testing.TB, pdf []byte) []PageSize {
	t.Helper()
	tool := program(t, "pdfinfo")
	out, err := exec.Command(tool, "-f", "1", "-l", "1000", stored(t, "page.pdf", pdf)).CombinedOutput()
	if err != nil {
		t.Fatalf("pdfinfo: %v\n%s", err, out)
	}
	var pages []PageSize
	for _, m := range pageSize.FindAllSubmatch(out, -1) {
		width, _ := strconv.ParseFloat(string(m[1]), 64)
		height, _ := strconv.ParseFloat(string(m[2]), 64)
		const perPoint = 25.4 / 72
		pages = append(pages, PageSize{width * perPoint, height * perPoint})
	}
	return pages
}

// PDFPNG renders one page of a PDF, counted from 1, at so many dots an inch, in
// grey, as pdftoppm of poppler does.
func PDFPNG(t testing.TB, pdf []byte, page, dpi int) []byte {
	t.Helper()
	tool := program(t, "pdftoppm")
	n := strconv.Itoa(page)
	out, err := exec.Command(tool, "-png", "-gray", "-r", strconv.Itoa(dpi), "-f", n, "-l", n, stored(t, "page.pdf", pdf)).Output()
	if err != nil {
		t.Fatalf("pdftoppm: %v", err)
	}
	return out
}

func stored(t testing.TB, name string, content []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, content, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}
