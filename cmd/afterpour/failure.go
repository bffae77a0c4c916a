package main

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"syscall"

	"afterpour/chem/input"
	"afterpour/chem/store"
)

// Exit codes.
const (
	exitDone    = 0
	exitFailed  = 1
	exitUsage   = 2
	exitInput   = 3
	exitChanged = 4
)

// usageError marks a call that cannot be carried out as written.
type usageError struct{ err error }

// Error is the message alone; where to find help is added when it is printed.
func (e usageError) Error() string { return e.err.Error() }

// Unwrap gives the cause.
func (e usageError) Unwrap() error { return e.err }

// usagef makes a usageError.
func usagef(format string, values ...any) error {
	return usageError{fmt.Errorf(format, values...)}
}

// shown marks an error whose message the user has already been given.
type shown struct{ err error }

// Error is the message of the error inside.
func (e shown) Error() string { return e.err.Error() }

// Unwrap gives the error inside, which decides the exit code.
func (e shown) Unwrap() error { return e.err }

// exitCode says how a call that ended with err ends the process.
func exitCode(err error) int {
	var usage usageError
	var problems input.Problems
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &usage):
		return exitUsage
	case errors.As(err, new(interrupted)):
		return signalled{syscall.SIGINT}.code()
	case errors.Is(err, store.ErrChanged):
		return exitChanged
	case errors.As(err, &problems):
		return exitInput
	}
	return exitFailed
}

// finish prints what went wrong, unless that was done already, and returns the
// exit code. A signal goes before every other reason.
func (p *program) finish(ctx context.Context, err error) int {
	if s, ok := signalOf(ctx); ok {
		return s.code()
	}
	if err == nil {
		return exitDone
	}
	var said shown
	if !errors.As(err, &said) {
		p.complain(err)
	}
	return exitCode(err)
}

// complain prints an error for people: the problems of an input file as they
// stand, anything else as one line behind the program's name.
func (p *program) complain(err error) {
	var problems input.Problems
	var usage usageError
	switch {
	case errors.As(err, &problems):
		fmt.Fprintln(p.stderr, cleanLines(problems.Error()))
	case errors.As(err, &usage):
		fmt.Fprintf(p.stderr, "afterpour: %s\n", cleanLines(plain(usage)))
		fmt.Fprintln(p.stderr, "Try a command with --help: it begins with an example.")
	default:
		fmt.Fprintf(p.stderr, "afterpour: %s\n", cleanLines(plain(err)))
	}
}

// packagePrefix is how the packages below begin an error: good for a
// programmer, noise for a user.
var packagePrefix = regexp.MustCompile(`(^|: )(units|input|store|data|substance|stoich|equil|electro|thermal|lot|route|econ): `)

// plain is an error's message without the names of packages.
func plain(err error) string { return packagePrefix.ReplaceAllString(err.Error(), "$1") }

// cleanLines passes a message of several lines through the cleaner, line by
// line, so that its line ends survive and nothing else that steers a terminal.
func cleanLines(text string) string {
	lines := strings.Split(strings.TrimRight(text, "\n"), "\n")
	for i, line := range lines {
		lines[i] = input.Clean(line, 0)
	}
	return strings.Join(lines, "\n")
}

// problemsOf turns any error about a file into a list of problems, so that a
// file that cannot even be opened is reported in the same shape.
func problemsOf(file string, err error) input.Problems {
	var problems input.Problems
	if errors.As(err, &problems) {
		return problems
	}
	return input.Problems{{File: file, Message: input.Clean(plain(err), 0)}}
}
