package main

import (
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"rodlore/catalogue/working"
)

// pageList is the file by which a folder of pages is known again: it lists all
// others in it, one a line.
const pageList = "pages.txt"

// writePages puts pages into a folder in place of all that it holds: every page
// or, where that fails, none. The folder may be new, empty or one of such pages;
// one that holds anything else is refused.
func writePages(dir string, pages map[string][]byte) error {
	if err := hasPlace(dir); err != nil {
		return err
	}
	place, err := behindLinks(dir)
	if err != nil {
		return err
	}
	if err := mayReplace(dir); err != nil {
		return err
	}
	return working.PutFolder(place, func(dir string) error { return fillFolder(dir, pages) })
}

// fillFolder writes the pages and their list.
func fillFolder(dir string, pages map[string][]byte) error {
	names := slices.Sorted(maps.Keys(pages))
	for _, name := range names {
		if err := os.WriteFile(filepath.Join(dir, name), pages[name], 0o666); err != nil {
			return err
		}
	}
	return os.WriteFile(filepath.Join(dir, pageList), []byte(strings.Join(names, "\n")+"\n"), 0o666)
}

// mayReplace refuses a folder with files that are not pages of ours.
func mayReplace(dir string) error {
	entries, err := os.ReadDir(dir)
	if errors.Is(err, os.ErrNotExist) || err == nil && len(entries) == 0 {
		return nil
	}
	if err != nil {
		return err
	}
	list, err := working.At(dir).Read(pageList)
	if err != nil && !errors.Is(err, os.ErrNotExist) && !errors.Is(err, working.ErrUnusable) {
		return err
	}
	listed := strings.Split(strings.TrimSpace(string(list)), "\n")
	for _, e := range entries {
		name := e.Name()
		ours := name == pageList || slices.Contains(listed, name) && slices.Contains([]string{".html", ".css"}, filepath.Ext(name))
		if !ours || !e.Type().IsRegular() {
			return fmt.Errorf("%s holds %s, which is no page of rodlore's; take it out, or name another folder", dir, e.Name())
		}
	}
	return nil
}
