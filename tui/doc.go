// Package tui is the screen: it shows an appraisal, lets the user change prices
// and saves them. It computes nothing: every figure comes from econ or chem,
// and is only formatted here.
package tui
