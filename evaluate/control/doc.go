// Package control tells whether a run of measurements holds still: control
// charts of single values and of the ranges from each to the next (Shewhart
// 1931, Economic Control of Quality of Manufactured Product). It knows nothing
// of rods.
//
// It imports nothing of ours. Another sign of drift is a Rule with its search.
package control
