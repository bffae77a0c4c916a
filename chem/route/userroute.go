package route

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/store"
)

// mostOwn is how many route files of one folder are read: each may multiply the
// plans.
const mostOwn = 100

// ownFile is a route file of the user's own that has been read.
type ownFile struct {
	id, path string
	doc      *input.Document
}

// Load returns the built-in routes together with the user's own: every file of
// the folders whose name ends in .toml adds a route, or replaces the route of
// its id; a later folder wins over an earlier one. Without any such file it is
// the built-in library.
//
// Errors: input.Problems with every problem of every file; two files of one
// folder with the same id; a folder that cannot be listed.
func Load(layer store.Layer, folders ...string) (*Library, error) {
	var own []ownFile
	var problems input.Problems
	for _, folder := range folders {
		files, wrong, err := readFolder(layer, folder)
		if err != nil {
			return nil, err
		}
		problems = append(problems, wrong...)
		own = append(slices.DeleteFunc(own, func(f ownFile) bool {
			return slices.ContainsFunc(files, func(later ownFile) bool { return later.id == f.id })
		}), files...)
	}
	if len(own) == 0 && len(problems) == 0 {
		return Builtin()
	}
	lib, err := build(own)
	if err = together(problems, err); err != nil {
		return nil, err
	}
	return lib, nil
}

// readFolder reads and parses the route files of a folder, in order of name.
func readFolder(layer store.Layer, folder string) ([]ownFile, input.Problems, error) {
	names, err := layer.List(folder)
	if err != nil {
		return nil, nil, fmt.Errorf("route: the folder of routes cannot be read: %w", err)
	}
	slices.Sort(names)
	var files []ownFile
	var problems input.Problems
	for _, name := range names {
		if filepath.Ext(name) != ".toml" || strings.HasPrefix(name, ".") {
			continue
		}
		path := filepath.Join(folder, name)
		if len(files) == mostOwn {
			return nil, nil, fmt.Errorf("route: %s holds more than %d route files", input.Clean(folder, 0), mostOwn)
		}
		file, wrong := readOwn(layer, path)
		for _, other := range files {
			if wrong == nil && other.id == file.id && file.id != "" {
				file.doc.Root().Problem("id", fmt.Sprintf("%s has this id too", input.Clean(other.path, 0)), "give each route an id of its own")
			}
		}
		problems = append(problems, wrong...)
		if file.doc != nil {
			files = append(files, file)
		}
	}
	return files, problems, nil
}

func readOwn(layer store.Layer, path string) (ownFile, input.Problems) {
	snapshot, err := store.Read(layer, path)
	if err != nil {
		return ownFile{}, input.Problems{{File: path, Message: err.Error()}}
	}
	doc, err := input.Parse(path, snapshot.Data)
	if err != nil {
		return ownFile{}, problemsOf(path, err)
	}
	f := ownFile{path: path, doc: doc}
	f.id, _ = doc.Root().String("id")
	return f, nil
}

// loadOwn adds the user's routes to a library and collects the problems of all
// of them.
func (lib *Library) loadOwn(own []ownFile) error {
	var problems input.Problems
	for _, file := range own {
		if err := lib.load(file.doc); err != nil {
			problems = append(problems, problemsOf(file.path, err)...)
			continue
		}
		f := &lib.routes[len(lib.routes)-1]
		f.User, f.Path = true, file.path
		lib.own = true
	}
	if len(problems) > 0 {
		return problems
	}
	lib.order()
	return nil
}

// order puts a route that replaces a built-in one in its place, and the user's
// further ones after the built-in ones.
func (lib *Library) order() {
	place := func(f File) int {
		if i := slices.Index(builtinOrder, f.ID); i >= 0 {
			return i
		}
		return len(builtinOrder)
	}
	slices.SortStableFunc(lib.routes, func(a, b File) int { return place(a) - place(b) })
}

// together joins the problems of several files; any other error goes first.
func together(problems input.Problems, err error) error {
	var more input.Problems
	if err != nil && !errors.As(err, &more) {
		return err
	}
	if problems = append(problems, more...); len(problems) > 0 {
		return problems
	}
	return nil
}

func problemsOf(path string, err error) input.Problems {
	var problems input.Problems
	if errors.As(err, &problems) {
		return problems
	}
	return input.Problems{{File: path, Message: err.Error()}}
}

// copyHead stands at the head of a copy of a route.
const copyHead = `# A copy of the route %q, to change. Put it into the folder "routes" of
# your configuration folder, or name its folder with --routes. With the same id
# it takes that route's place; with another id it comes beside it.
#
# Keys of the route:
#   takes, brings    metals that it wins, and that come along, by symbol
#   reaches          the forms of those metals that it can get at
#   out_of_reach     why it leaves the rest behind
#   yields           the sale of the price book that its product is made for
#   anions           what must be in the liquor, at least one of them
#   rest             streams that are handed on to the next route
#   prepares = true  it wins nothing, but brings metal into reach of others
#   treatment = true it readies what is left for the carrier
# Keys of every step:
#   id, title, kind, in, out, reagent, reaction, hands_on, wait, stop, note,
#   product, sale, consumables; closed = true if the vessel is closed
#   cautions         hazards that always show here; the rules find the others
# A figure is { value = "…", source = "…", why = "…" }. A range "a..b" or a doubt
# "x ± y" is carried through to the result. A source is a published one, "common
# practice", or "assumption" with its why.

`

// Copy returns a route's file with a head that explains it, for the user to
// change. The route's own text follows as it stands.
func (f *File) Copy() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, copyHead, f.ID)
	b.Write(f.text)
	return b.Bytes()
}
