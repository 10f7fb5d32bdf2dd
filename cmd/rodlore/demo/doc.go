// Package demo is an invented range: the first six years of a one-person rod
// maker on an estuary, state by saved state. Maker, place, people and parts
// are made up; dimensions and masses are such as rods of these kinds have.
//
// Each file of the history folder is one saved state in txtar form, named for
// its day. Its comment is a header of "date:", "author:", "why:" and, where
// they apply, "tell:" (words for customers) and "release: MODEL LABEL"
// (put on sale as saved here, as often as needed); indented lines continue the
// value above. Its files are
//
//	-- models/x.yaml --         the whole content
//	-- edit models/x.yaml --    hunks, parted by blank lines, of lines "- old"
//	                            followed by lines "+ new"; the old lines
//	                            stand together in the file exactly once
//	-- base64 pictures/x.png -- what is no text
//	-- move models/x.yaml models/y.yaml --
//
// draft.txt has the same form without a header: what was edited last and not
// saved.
//
// It imports nothing of ours. A year more is a file more.
package demo
