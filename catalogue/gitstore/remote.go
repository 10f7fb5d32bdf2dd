package gitstore

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"rodlore/catalogue/visible"
)

// Another repository has so long to list its tags.
const remotePatience = time.Minute

// RemoteTags asks another repository for its tags, which it answers without sending
// anything else. It is git that asks, since it knows the user's keys, passwords and
// proxies. It is started outside of the repository, whose settings may name programs.
func (s *Store) RemoteTags(ctx context.Context, remote string) (name string, ids map[string]string, err error) {
	name, address, err := s.remoteURL(remote)
	if err != nil {
		return name, nil, err
	}
	asked, cancel := context.WithTimeout(ctx, remotePatience)
	defer cancel()
	ids, err = s.listTags(asked, address)
	if ctx.Err() != nil {
		return name, nil, ctx.Err()
	}
	if err != nil {
		return name, nil, fmt.Errorf("asking %s, at %s, for its releases: %w; see whether `git ls-remote %s` can", name, shown(address), err, visible.Arg(name))
	}
	return name, ids, nil
}

// shown is an address without the password that it may hold.
func shown(address string) string {
	if u, err := url.Parse(address); err == nil && u.User != nil {
		return u.Redacted()
	}
	return address
}

// remoteURL finds a remote by its name; where none is given it is origin, or the
// only one.
func (s *Store) remoteURL(name string) (found, address string, err error) {
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
func (s settings) rewritten(address string) string {
	longest, out := "", address
	for key, values := range s {
		base, isURL := strings.CutPrefix(key, "url.")
		base, isRule := strings.CutSuffix(base, ".insteadof")
		for _, begin := range values {
			if isURL && isRule && len(begin) > len(longest) && strings.HasPrefix(address, begin) {
				longest, out = begin, base+strings.TrimPrefix(address, begin)
			}
		}
	}
	return out
}

// remoteProtocols are those that run no program that an address names.
const remoteProtocols = "file:git:http:https:ssh"

// helperAddress is an address that names a program of its own, git-remote-NAME.
var helperAddress = regexp.MustCompile(`^[A-Za-z0-9]+::`)

// listTags gives the tags that a repository lists, by name. Nobody is asked for a
// password or whether a host is the right one: that would be waited for.
func (s *Store) listTags(ctx context.Context, address string) (ids map[string]string, err error) {
	if helperAddress.MatchString(address) {
		return nil, errors.New("its address names a program, which is not run")
	}
	own, err := readUserSettings(s.place)
	if err != nil {
		return nil, err
	}
	cmd := exec.CommandContext(ctx, "git", "ls-remote", "--tags", "--refs", "--", s.located(address))
	cmd.Dir = filepath.VolumeName(s.top) + string(filepath.Separator)
	cmd.Env = slices.DeleteFunc(os.Environ(), func(v string) bool {
		return strings.HasPrefix(v, "GIT_DIR=") || strings.HasPrefix(v, "GIT_WORK_TREE=") || strings.HasPrefix(v, "GIT_COMMON_DIR=")
	})
	ssh := cmp.Or(os.Getenv("GIT_SSH_COMMAND"), own.value("core.sshcommand"))
	if ssh == "" && os.Getenv("GIT_SSH") == "" {
		ssh = "ssh"
	}
	if ssh != "" {
		cmd.Env = append(cmd.Env, "GIT_SSH_COMMAND="+ssh+" -o BatchMode=yes")
	}
	if os.Getenv("GIT_ALLOW_PROTOCOL") == "" {
		cmd.Env = append(cmd.Env, "GIT_ALLOW_PROTOCOL="+remoteProtocols)
	}
	cmd.Env = append(cmd.Env, "GIT_TERMINAL_PROMPT=0", "LC_ALL=C")
	cmd.Cancel = func() error { return cmd.Process.Signal(os.Interrupt) } // so that it ends what it started
	cmd.WaitDelay = time.Second
	var listed, said capped
	cmd.Stdout, cmd.Stderr = &listed, &said
	err = cmd.Run()
	switch {
	case errors.Is(err, exec.ErrNotFound):
		return nil, errors.New("git does that, which is not there")
	case ctx.Err() != nil:
		return nil, fmt.Errorf("it did not answer within %v", remotePatience)
	case err != nil:
		return nil, fmt.Errorf("git says: %s", cmp.Or(complaint(said.String()), err.Error()))
	}
	ids = map[string]string{}
	for line := range strings.Lines(listed.String()) {
		id, ref, _ := strings.Cut(strings.TrimSpace(line), "\t")
		if tag, ok := strings.CutPrefix(ref, tagPrefix); ok {
			ids[tag] = id
		}
	}
	return ids, nil
}

// located is an address from wherever git is started: a path is seen from the top of
// the working tree.
func (s *Store) located(address string) string {
	before, _, isHost := strings.Cut(address, ":")
	if isHost && !strings.Contains(before, "/") {
		return address
	}
	return absolute(s.top, address)
}

// complaint is the line that says why git could not read from a remote.
func complaint(said string) string {
	before, _, _ := strings.Cut(said, "fatal: Could not read from remote repository")
	lines := strings.Split(strings.TrimSpace(cmp.Or(strings.TrimSpace(before), said)), "\n")
	return strings.TrimPrefix(strings.TrimSpace(lines[len(lines)-1]), "fatal: ")
}

// capped is what a program says, up to a bound beyond which it is stopped.
type capped struct{ strings.Builder }

func (c *capped) Write(p []byte) (int, error) {
	if c.Len()+len(p) > mostList {
		return 0, errors.New("it says more than a repository has")
	}
	return c.Builder.Write(p)
}
