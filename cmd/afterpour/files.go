package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"

	"afterpour/chem/input"
	"afterpour/chem/store"
	"afterpour/econ"
)

// stdinName stands for standard input in the call and in messages.
const stdinName = "-"

// file is a file of the call as it was read.
type file struct {
	name string // as typed, for messages
	data []byte
}

// readFile reads a file named in the call; "-" is standard input. An error is
// of type input.Problems.
func (p *program) readFile(ctx context.Context, name string) (file, error) {
	if name == stdinName {
		return p.readStdin(ctx)
	}
	snapshot, err := store.Read(p.layer, name)
	if err != nil {
		return file{name: name}, problemsOf(name, err)
	}
	return file{name, snapshot.Data}, nil
}

// readStdin reads standard input to its end, or until the context ends: a
// signal must not wait for somebody to close the pipe.
func (p *program) readStdin(ctx context.Context) (file, error) {
	type read struct {
		data []byte
		err  error
	}
	done := make(chan read, 1)
	go func() {
		data, err := io.ReadAll(io.LimitReader(p.stdin, input.MaxBytes+1))
		done <- read{data, err}
	}()
	select {
	case <-ctx.Done():
		return file{name: stdinName}, ctx.Err()
	case got := <-done:
		if got.err != nil {
			return file{name: stdinName}, problemsOf(stdinName, fmt.Errorf("standard input cannot be read: %w", got.err))
		}
		return file{stdinName, got.data}, nil
	}
}

// parse reads a file's text.
func (f file) parse() (*input.Document, error) { return input.Parse(f.name, f.data) }

// builtinBookName is how messages name the price book inside the program.
const builtinBookName = "built-in prices"

// findBook returns the path of the price book to use: the one named in the
// call, else the one in the working folder, else the one in the configuration
// folder. Empty means that there is none and the built-in one serves.
func (p *program) findBook(named string) (string, error) {
	if named != "" {
		return named, nil
	}
	candidates := []string{econ.BookName}
	if dir, err := p.configDir(); err == nil {
		candidates = append(candidates, filepath.Join(dir, econ.BookName))
	}
	for _, path := range candidates {
		_, err := p.layer.Stat(path)
		switch {
		case err == nil:
			return path, nil
		case !errors.Is(err, fs.ErrNotExist):
			return "", problemsOf(path, err)
		}
	}
	return "", nil
}

// readBook reads the price book that findBook chooses.
func (p *program) readBook(ctx context.Context, named string) (file, error) {
	path, err := p.findBook(named)
	if err != nil {
		return file{}, err
	}
	if path == "" {
		return file{builtinBookName, econ.DefaultBook()}, nil
	}
	return p.readFile(ctx, path)
}
