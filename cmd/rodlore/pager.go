package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"os/signal"

	"golang.org/x/term"
)

// pager holds what is printed on a terminal until the end, when it is known whether
// it is longer than the screen and goes through the user's own pager.
type pager struct {
	terminal *os.File
	env      func(string) string
	held     bytes.Buffer
}

func (p *pager) Write(b []byte) (int, error) { return p.held.Write(b) }

// Flush shows what was held. Where the pager cannot be started it is done without.
func (p *pager) Flush() error {
	if program := p.program(); program != "" && p.overflows() && p.page(program) {
		return nil
	}
	_, err := p.held.WriteTo(p.terminal)
	return err
}

// program is what pages; "" for nothing.
func (p *pager) program() string {
	if program := p.env("PAGER"); program != "" || p.env("TERM") == "dumb" {
		return program
	}
	if _, err := exec.LookPath("less"); err != nil {
		return ""
	}
	return "less"
}

func (p *pager) overflows() bool {
	_, height, err := term.GetSize(int(p.terminal.Fd()))
	return err == nil && bytes.Count(p.held.Bytes(), []byte("\n")) >= height
}

// page reports whether the pager could be started.
func (p *pager) page(program string) bool {
	// In a pager Ctrl-C stops a search. It is not to end this program before it.
	interrupts := make(chan os.Signal, 1)
	signal.Notify(interrupts, os.Interrupt)
	defer signal.Stop(interrupts)

	cmd := exec.Command("sh", "-c", program)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = bytes.NewReader(p.held.Bytes()), p.terminal, os.Stderr
	cmd.Env = os.Environ()
	if p.env("LESS") == "" {
		cmd.Env = append(cmd.Env, "LESS=FRX") // colours, and the text stays on the screen
	}
	err := cmd.Run()
	var exit *exec.ExitError
	const notFound = 127
	return err == nil || errors.As(err, &exit) && exit.ExitCode() != notFound
}
