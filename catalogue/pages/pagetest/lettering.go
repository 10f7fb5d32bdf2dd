package pagetest

import "testing"

// Lettered reports what is wrong with the letters of a page and its pictures, at
// widths from a phone's to a desk's, by day and by night and with large letters.
// Which font they are in is up to the system: see .ci/run.
func (b *Browser) Lettered(t testing.TB, page string) {
	t.Helper()
	for _, width := range []int{360, 768, 1280} {
		for _, v := range []View{{Width: width}, {Width: width, Dark: true}, {Width: width, Large: true}} {
			b.Show(t, page, v)
			if faults := b.Ask(t, lettering); faults != "" {
				t.Errorf("%s at %+v:\n%s", page, v, faults)
			}
		}
	}
}

// lettering lists what is wrong with letters as a browser sets them: labels that
// are empty, leave their picture, lie over each other or are too small to read,
// and a page that is wider than the screen.
const lettering = `
(() => {
	const faults = [];
	const slack = 0.5; // px: boxes are those of lines, with more above and below than letters have
	const grown = parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
	if (document.documentElement.scrollWidth > innerWidth) faults.push("the page is wider than the screen");
	for (const svg of document.querySelectorAll("svg.picture")) {
		const name = svg.querySelector("title").textContent;
		const paper = svg.getBoundingClientRect(), column = svg.parentElement.getBoundingClientRect();
		const leaf = svg.closest(".leaf"); // of its true size, as what it is printed for
		if (!leaf && paper.width < Math.min(column.width, 704 * grown) - slack)
			faults.push(name + ": " + paper.width + " px wide in a column of " + column.width);
		const letters = [...svg.querySelectorAll("text")].map(t => {
			const b = t.getBoundingClientRect(), size = parseFloat(getComputedStyle(t).fontSize) * paper.width / svg.viewBox.baseVal.width;
			const turned = t.hasAttribute("transform"), cut = 0.16 * size;
			return {text: t.textContent, size,
				l: b.left + (turned ? cut : 0), r: b.right - (turned ? cut : 0), t: b.top + (turned ? 0 : cut), b: b.bottom - (turned ? 0 : cut)};
		});
		letters.forEach((a, i) => {
			if (!a.text) faults.push(name + ": a label has no letters");
			if (!leaf && !(a.size >= 9 * grown)) faults.push(name + ": " + a.text + " is " + a.size.toFixed(2) + " px high");
			if (a.l < paper.left - slack || a.r > paper.right + slack || a.t < paper.top - slack || a.b > paper.bottom + slack)
				faults.push(name + ": " + a.text + " leaves the picture");
			for (const b of letters.slice(i + 1))
				if (a.l < b.r - slack && b.l < a.r - slack && a.t < b.b - slack && b.t < a.b - slack)
					faults.push(name + ": " + a.text + " lies over " + b.text);
		});
	}
	return faults.join("\n");
})()`
