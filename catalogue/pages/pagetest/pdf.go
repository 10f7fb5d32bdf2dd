package pagetest

import (
	"bytes"
	"os/exec"
	"regexp"
	"strconv"
	"testing"
)

// PDFText is the text of a PDF as pdftotext of poppler reads it, laid out as on
// paper.
func PDFText(t testing.TB, pdf []byte) string {
	t.Helper()
	return string(read(t, pdf, "pdftotext", "-layout", "page.pdf", "-"))
}

// PageSize is one page of a PDF, in mm.
type PageSize struct{ Width, Height float64 }

var pageSize = regexp.MustCompile(`Page +\d+ size: +([\d.]+) x ([\d.]+) pts`)

// PDFPages are the sizes of the pages of a PDF, as pdfinfo of poppler reads them.
func PDFPages(t testing.TB, pdf []byte) []PageSize {
	t.Helper()
	out := read(t, pdf, "pdfinfo", "-f", "1", "-l", "1000", "page.pdf")
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
	n := strconv.Itoa(page)
	return read(t, pdf, "pdftoppm", "-png", "-gray", "-r", strconv.Itoa(dpi), "-f", n, "-l", n, "page.pdf")
}

// read is what a program of poppler says of a PDF, which it finds as page.pdf.
func read(t testing.TB, pdf []byte, tool string, args ...string) []byte {
	t.Helper()
	cmd := exec.Command(program(t, tool), args...)
	cmd.Dir = t.TempDir()
	write(t, cmd.Dir, "page.pdf", pdf)
	var says bytes.Buffer
	cmd.Stderr = &says
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s: %v\n%s", tool, err, says.Bytes())
	}
	return out
}
