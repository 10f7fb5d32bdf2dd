// Package document holds pages made of headings, text, tables and pictures, and
// writes them as HTML, as Markdown and as PDF. It knows nothing of rods.
//
// The three say the same. What a form cannot hold is put into words there: a
// picture in Markdown is its description. An HTML document is one file that asks
// for no other; a PDF has its fonts in it. The bytes of all three follow from
// the document alone.
//
// It imports drawing, picture and visible. A new block is a type that each of the three
// forms writes: in page.html, markdown_blocks.go and pdf_blocks.go.
package document
