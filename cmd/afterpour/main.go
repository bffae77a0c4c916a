// Command afterpour tells a bench-scale metal recoverer whether a residue is
// worth working up, by which route, and what it will take. It reads a lot file
// and a price book and prints the standings of all plans, as text or as JSON.
//
// This package computes nothing: it reads the call, hands files to the packages
// below it and prints what they answer.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"

	_ "afterpour/cmd/internal/ground" // first: see its comment
)

func main() {
	ctx, stop := withSignals(context.Background())
	code := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}

// run carries out one call of the program and returns its exit code: 0 done,
// 1 failed, 2 the call is wrong, 3 an input file is wrong, 4 a file changed on
// disk meanwhile, 129, 130 or 143 after a signal. Results go to stdout,
// everything else to stderr.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) (code int) {
	// An unhandled panic would end the process with 2, which means a wrong call.
	defer func() {
		if fault := recover(); fault != nil {
			fmt.Fprintf(stderr, "afterpour: a fault in the program, not in your files: %v\n\n%s", fault, debug.Stack())
			code = exitFailed
		}
	}()
	p := newProgram(stdin, stdout, stderr)
	root := p.rootCommand()
	root.SetArgs(args)
	root.SetIn(stdin)
	printed := &noticing{Writer: stdout}
	root.SetOut(printed)
	root.SetErr(stderr)
	return p.finish(ctx, errors.Join(root.ExecuteContext(ctx), printed.err))
}

// noticing remembers that something could not be written: the command library
// prints help and completions without a look at that.
type noticing struct {
	io.Writer
	err error
}

// Write writes, and keeps the first error.
func (n *noticing) Write(p []byte) (int, error) {
	written, err := n.Writer.Write(p)
	if n.err == nil {
		n.err = err
	}
	return written, err
}
