// Package telling puts what became of a rod from one revision to another into the
// sentences and tables that several pages share. What only one page has stands with
// that page, and a sentence by itself in package say.
package telling
