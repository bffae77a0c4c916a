package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestStylesInOnePlace: how anything looks is decided in styles.go alone, and
// keys are compared through the key map alone.
func TestStylesInOnePlace(t *testing.T) {
	names, err := filepath.Glob("*.go")
	if err != nil || len(names) < 10 {
		t.Fatalf("%d source files, error %v", len(names), err)
	}
	for _, name := range names {
		if name == "styles_test.go" {
			continue
		}
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, banned := range []string{"lipgloss.NewStyle", ".NewStyle()", "lipgloss.Color(", ".Foreground("} {
			if name != "styles.go" && strings.Contains(string(data), banned) {
				t.Errorf("%s has %s: styles belong in styles.go", name, banned)
			}
		}
		if !strings.HasSuffix(name, "_test.go") && strings.Contains(string(data), "msg.String()") {
			t.Errorf("%s compares keys by their text: use the key map", name)
		}
		// The goroutine of stop_unix.go hands signals on and nothing else.
		if !strings.HasSuffix(name, "_test.go") && name != "stop_unix.go" && strings.Contains(string(data), "go func") {
			t.Errorf("%s starts a goroutine: a panic in it would leave the terminal raw", name)
		}
	}
}

// TestPalettes: every tone with a colour has one in each coloured theme, none
// in mono.
func TestPalettes(t *testing.T) {
	for _, theme := range []Theme{Dark, Light} {
		p := palettes[theme]
		for name, c := range map[string]string{"muted": string(p.muted), "accent": string(p.accent), "gain": string(p.gain), "loss": string(p.loss), "warn": string(p.warn)} {
			if c == "" {
				t.Errorf("%s has no colour for %s", theme, name)
			}
		}
		if p.gain == p.loss {
			t.Errorf("%s: gain and loss look alike", theme)
		}
	}
	if palettes[Mono] != (palette{}) {
		t.Error("mono has colours")
	}
}
