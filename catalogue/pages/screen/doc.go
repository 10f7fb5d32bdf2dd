// Package screen lays out the views of the workshop screen: the range at a glance, a
// rod with its history, two rods side by side. A view is a document like any other
// page; its links are to other views, by the addresses in address.go. Its words stand
// under screen: in say/english.yaml. It may import what other pages import, and knows
// nothing of the server that shows it.
package screen
