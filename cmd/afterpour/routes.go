package main

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/store"

	"github.com/spf13/cobra"
)

// routesFolder is the folder of the user's own routes in the configuration
// folder.
const routesFolder = "routes"

// addRoutesFlag adds --routes to a command and those below it.
func addRoutesFlag(cmd *cobra.Command) {
	cmd.PersistentFlags().String("routes", "", "take routes of your own from `DIR` too (besides the folder routes of the configuration folder)")
}

// library returns the built-in routes with the user's own: those of the
// configuration folder, then those of --routes, the later over the earlier. An
// error is of type input.Problems where a file or a folder is wrong.
func (p *program) library(cmd *cobra.Command) (*route.Library, error) {
	var folders []string
	if dir, err := p.configDir(); err == nil {
		own := filepath.Join(dir, routesFolder)
		if _, err := p.layer.Stat(own); err == nil {
			folders = append(folders, own)
		} else if !errors.Is(err, fs.ErrNotExist) {
			return nil, problemsOf(own, err)
		}
	}
	if named, _ := cmd.Flags().GetString("routes"); named != "" {
		folders = append(folders, named)
	}
	library, err := route.Load(p.layer, folders...)
	if err != nil {
		return nil, problemsOf(last(folders), err)
	}
	return library, nil
}

func last(list []string) string {
	if len(list) == 0 {
		return ""
	}
	return list[len(list)-1]
}

// routesCommand lists the routes; its subcommands show and copy one.
func (p *program) routesCommand() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "routes",
		Short: "List the routes, show one in full, or copy one to change it",
		Long: `Routes lists every route that plans are made of. A route is a file of steps: a
copy of one, changed and put into the folder routes of your configuration folder
or into a folder named with --routes, takes the place of the built-in route of
that id, or comes beside it under an id of its own.`,
		Example: `  afterpour routes
  afterpour routes show chloride-oxide-sugar
  afterpour routes copy chloride-oxide-sugar my-routes/chloride-oxide-sugar.toml
  afterpour rank strip.toml --routes my-routes`,
		Args: noSubcommand,
		RunE: func(cmd *cobra.Command, _ []string) error { return p.listRoutes(cmd, asJSON) },
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print one JSON object")
	cmd.AddCommand(p.showRouteCommand(), p.copyRouteCommand())
	return cmd
}

func (p *program) listRoutes(cmd *cobra.Command, asJSON bool) error {
	library, err := p.library(cmd)
	if err != nil {
		return p.fail(asJSON, "", err)
	}
	if asJSON {
		object := routesJSON{SchemaVersion: schemaVersion, Routes: []routeJSON{}}
		for i := range library.Routes() {
			object.Routes = append(object.Routes, newRouteJSON(&library.Routes()[i]))
		}
		return p.printJSON(object)
	}
	return p.printText(routesText(library.Routes()))
}

func (p *program) showRouteCommand() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "show ID",
		Short: "Show a route in full: steps, figures with their sources, cautions",
		Example: `  afterpour routes show copper-cementation
  afterpour routes show copper-cementation --json`,
		Args: usageArgs(cobra.ExactArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			library, f, err := p.findRoute(cmd, args[0])
			if err != nil {
				return p.fail(asJSON, "", err)
			}
			if asJSON {
				return p.printJSON(newFullRouteJSON(library, f))
			}
			return p.printText(fullRouteText(library, f))
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print one JSON object")
	return cmd
}

// findRoute finds a route by its id. A mistyped id is a mistake in the call.
func (p *program) findRoute(cmd *cobra.Command, id string) (*route.Library, *route.File, error) {
	library, err := p.library(cmd)
	if err != nil {
		return nil, nil, err
	}
	f, err := library.Route(id)
	if err == nil {
		return library, f, nil
	}
	known := make([]string, 0, len(library.Routes()))
	for i := range library.Routes() {
		known = append(known, library.Routes()[i].ID)
	}
	if near := input.Nearest(id, known); near != "" {
		return nil, nil, usagef("there is no route %q; did you mean %q?", id, near)
	}
	return nil, nil, usagef("there is no route %q; `afterpour routes` lists them", id)
}

func (p *program) copyRouteCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "copy ID FILE",
		Short: "Write a commented copy of a route to a new file, to change it",
		Long: `Copy writes a route with a head that explains its keys to a new file, and never
over an existing one. With the id it has, the copy takes that route's place once
its folder is read; change the id to have it beside the built-in one.`,
		Example: `  afterpour routes copy copper-cementation my-routes/slow-cementation.toml`,
		Args:    usageArgs(cobra.ExactArgs(2)),
		RunE: func(cmd *cobra.Command, args []string) error {
			_, f, err := p.findRoute(cmd, args[0])
			if err != nil {
				return err
			}
			return p.copyRoute(f, args[1])
		},
	}
}

func (p *program) copyRoute(f *route.File, path string) error {
	if filepath.Ext(path) != ".toml" {
		return usagef("%q does not end in .toml, and only such files are read as routes", path)
	}
	_, err := store.Create(p.layer, path, f.Copy())
	switch {
	case errors.Is(err, fs.ErrExist):
		return fmt.Errorf("%q is there already, and is never written over", path)
	case err != nil && !errors.Is(err, store.ErrNotSynced):
		return err
	}
	var text page
	text.text("", "wrote %s: change it, then name its folder with --routes", path)
	return errors.Join(p.printText(text.String()), err)
}
