package gitstore

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/transport"
	"github.com/go-git/go-git/v5/plumbing/transport/client"
)

// Another repository has so long to list its tags.
const remotePatience = time.Minute

// RemoteTags asks another repository for its tags, which it answers without sending
// anything else. No program that git's settings name for it is run.
func (s *Store) RemoteTags(ctx context.Context, remote string) (name string, ids map[string]string, err error) {
	name, url, err := s.remoteURL(remote)
	if err != nil {
		return name, nil, err
	}
	ctx, cancel := context.WithTimeout(ctx, remotePatience)
	defer cancel()
	ids, err = listTags(ctx, url)
	if err != nil {
		return name, nil, fmt.Errorf("asking %s, at %s, for its releases: %w", name, url, err)
	}
	return name, ids, nil
}

// remoteURL finds a remote by its name; where none is given it is origin, or the
// only one.
func (s *Store) remoteURL(name string) (found, url string, err error) {
	config, err := readSettings(s.place)
	if err != nil {
		return name, "", err
	}
	urls := config.remotes()
	names := slices.Sorted(maps.Keys(urls))
	switch {
	case len(names) == 0:
		return name, "", errors.New("the repository has no remote: `git remote add origin URL` gives it one")
	case name == "" && urls["origin"] != "":
		name = "origin"
	case name == "" && len(names) == 1:
		name = names[0]
	case name == "":
		return name, "", fmt.Errorf("the repository has several remotes; name one of %s", strings.Join(names, ", "))
	}
	if urls[name] == "" {
		return name, "", fmt.Errorf("the repository has no remote %q; there is %s", name, strings.Join(names, ", "))
	}
	return name, config.rewritten(urls[name]), nil
}

// remotes are the addresses of the remotes, by name.
func (s settings) remotes() map[string]string {
	urls := map[string]string{}
	for key, values := range s {
		name, isRemote := strings.CutPrefix(key, "remote.")
		name, isURL := strings.CutSuffix(name, ".url")
		if isRemote && isURL && len(values) > 0 {
			urls[name] = values[0]
		}
	}
	return urls
}

// rewritten is an address as url.BASE.insteadOf has it; the longest beginning counts.
func (s settings) rewritten(url string) string {
	longest, out := "", url
	for key, values := range s {
		base, isURL := strings.CutPrefix(key, "url.")
		base, isRule := strings.CutSuffix(base, ".insteadof")
		for _, begin := range values {
			if isURL && isRule && len(begin) > len(longest) && strings.HasPrefix(url, begin) {
				longest, out = begin, base+strings.TrimPrefix(url, begin)
			}
		}
	}
	return out
}

// listTags gives the tags that a repository lists, by name.
func listTags(ctx context.Context, url string) (ids map[string]string, err error) {
	at, err := transport.NewEndpoint(url)
	if err != nil {
		return nil, err
	}
	c, err := client.NewClient(at)
	if err != nil {
		return nil, err
	}
	session, err := c.NewUploadPackSession(at, nil)
	if err != nil {
		return nil, err
	}
	defer func() { _ = session.Close() }() // nothing was asked for that could be lost
	ids = map[string]string{}
	listed, err := session.AdvertisedReferencesContext(ctx)
	if errors.Is(err, transport.ErrEmptyRemoteRepository) {
		return ids, nil
	}
	if err != nil {
		return nil, err
	}
	for ref, id := range listed.References {
		if tag, ok := strings.CutPrefix(ref, tagPrefix); ok && id != plumbing.ZeroHash {
			ids[tag] = id.String()
		}
	}
	return ids, nil
}
