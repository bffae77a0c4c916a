package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"syscall"
)

// signalled is the cause of a context that a signal ended.
type signalled struct{ number syscall.Signal }

// Error names the signal.
func (s signalled) Error() string { return fmt.Sprintf("stopped by a signal: %v", s.number) }

// code is the exit code that a shell expects after this signal: 128 + number.
func (s signalled) code() int { return 128 + int(s.number) }

// withSignals returns a context that ends, with the signal as its cause, when
// the program is interrupted, told to terminate, or loses its terminal. A
// second signal ends the program at once, since the first restores the
// default.
func withSignals(parent context.Context) (context.Context, func()) {
	ctx, cancel := context.WithCancelCause(parent)
	arrived := make(chan os.Signal, 1)
	signal.Notify(arrived, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	go func() {
		select {
		case s := <-arrived:
			signal.Stop(arrived)
			if number, ok := s.(syscall.Signal); ok {
				cancel(signalled{number})
			}
		case <-ctx.Done():
		}
	}()
	return ctx, func() { signal.Stop(arrived); cancel(nil) }
}

// signalOf reports which signal ended the context, if one did.
func signalOf(ctx context.Context) (signalled, bool) {
	var s signalled
	ok := errors.As(context.Cause(ctx), &s)
	return s, ok
}
