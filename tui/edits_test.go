package tui

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// replacing is a splicer over a file of "key=value;" parts.
func replacing(data []byte, path, text string) ([]byte, string, error) {
	parts := strings.Split(string(data), ";")
	for i, p := range parts {
		if key, old, ok := strings.Cut(p, "="); ok && key == path {
			parts[i] = key + "=" + text
			return []byte(strings.Join(parts, ";")), old, nil
		}
	}
	return nil, "", errors.New("no such key")
}

func TestEditLog(t *testing.T) {
	l := newEditLog([]byte("a=1;b=2"))
	l, err := l.apply(edit{"a", "1", "5"}, replacing)
	if err != nil {
		t.Fatal(err)
	}
	if got := string(l.data()); got != "a=5;b=2" || !l.dirty() {
		t.Errorf("after an edit: %q, dirty %v", got, l.dirty())
	}
	if _, err := l.apply(edit{"a", "1", "6"}, replacing); !errors.Is(err, errMoved) {
		t.Errorf("an edit from a text that is not there: %v, want %v", err, errMoved)
	}
	if _, err := l.apply(edit{"c", "", "6"}, replacing); err == nil {
		t.Error("an edit of a key that is not there was made")
	}
	l, _ = l.apply(edit{"b", "2", "3"}, replacing)
	l, e, ok := l.undo()
	if !ok || e != (edit{"b", "2", "3"}) || string(l.data()) != "a=5;b=2" {
		t.Errorf("undo: %v %v %q", ok, e, l.data())
	}
	l, _, _ = l.undo()
	if l.dirty() || len(l.unsaved) != 0 {
		t.Errorf("all undone, but dirty %v, unsaved %v", l.dirty(), l.unsaved)
	}
	l, _, _ = l.redo()
	l, _, _ = l.redo()
	if _, _, ok := l.redo(); ok || string(l.data()) != "a=5;b=3" {
		t.Errorf("all done again: %q", l.data())
	}
	l = l.saved(l.data())
	if l.dirty() {
		t.Error("dirty after saving")
	}
	l, _, _ = l.undo()
	if got := l.unsaved; !l.dirty() || len(got) != 1 || got[0] != (edit{"b", "3", "2"}) {
		t.Errorf("undone past the save: dirty %v, unsaved %v", l.dirty(), got)
	}
}

// TestEditLogEquals: whatever is done, undoing all gives the file as read,
// redoing all gives the last state, and the unsaved edits made on the file give
// the working copy.
func TestEditLogEquals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := newEditLog([]byte("a=0;b=0;c=0"))
		for range rapid.IntRange(1, 40).Draw(t, "steps") {
			switch rapid.IntRange(0, 5).Draw(t, "what") {
			case 0:
				l, _, _ = l.undo()
			case 1:
				l, _, _ = l.redo()
			case 2:
				l = l.saved(l.data())
			default:
				key := rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "key")
				value := rapid.SampledFrom([]string{"0", "1", "2"}).Draw(t, "value")
				_, old, _ := replacing(l.data(), key, value)
				var err error
				if l, err = l.apply(edit{key, old, value}, replacing); err != nil {
					t.Fatal(err)
				}
			}
		}
		if l.dirty() != (len(l.unsaved) > 0) {
			t.Fatalf("dirty %v with %v", l.dirty(), l.unsaved)
		}
		onFile := newEditLog(l.disk)
		for _, e := range l.unsaved {
			var err error
			if onFile, err = onFile.apply(e, replacing); err != nil {
				t.Fatal(err)
			}
		}
		if string(onFile.data()) != string(l.data()) {
			t.Fatalf("the unsaved edits give %q, the working copy is %q", onFile.data(), l.data())
		}
		last := string(l.data())
		done := l.done
		for l.done > 0 {
			l, _, _ = l.undo()
		}
		if string(l.data()) != string(l.base) {
			t.Fatalf("all undone: %q", l.data())
		}
		for l.done < done {
			l, _, _ = l.redo()
		}
		if string(l.data()) != last {
			t.Fatalf("all done again: %q, want %q", l.data(), last)
		}
	})
}

// TestEditLogBounded: the log forgets its oldest steps, not its newest.
func TestEditLogBounded(t *testing.T) {
	l := newEditLog([]byte("a=0"))
	for i := range undoSteps + 50 {
		next := strings.Repeat("x", i%7) + "."
		_, old, _ := replacing(l.data(), "a", next)
		l, _ = l.apply(edit{"a", old, next}, replacing)
	}
	if len(l.steps) > undoSteps || l.done != len(l.steps) {
		t.Errorf("%d steps, %d done, of at most %d", len(l.steps), l.done, undoSteps)
	}
}
