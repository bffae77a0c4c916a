package store

import (
	"errors"
	"path/filepath"
	"runtime"
	"testing"
)

func TestFolders(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("the base directory variables are not used on Windows")
	}
	tests := map[string]struct {
		home, config, state   string
		wantConfig, wantState string
	}{
		"home":     {"/home/a", "", "", "/home/a/.config/afterpour", "/home/a/.local/state/afterpour"},
		"set":      {"/home/a", "/c", "/s", "/c/afterpour", "/s/afterpour"},
		"relative": {"/home/a", "c", "./s", "/home/a/.config/afterpour", "/home/a/.local/state/afterpour"},
		"nothing":  {"", "", "", "", ""},
		"bad home": {"a", "", "", "", ""},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			t.Setenv("HOME", test.home)
			t.Setenv("XDG_CONFIG_HOME", test.config)
			t.Setenv("XDG_STATE_HOME", test.state)
			check := func(what string, folder func() (string, error), want string) {
				got, err := folder()
				if got != filepath.FromSlash(want) || (want == "") != errors.Is(err, ErrNoFolder) {
					t.Errorf("%s() = %q, %v; want %q", what, got, err, want)
				}
			}
			check("ConfigDir", ConfigDir, test.wantConfig)
			check("StateDir", StateDir, test.wantState)
		})
	}
}
