// Package layers holds no code. Its tests keep the rules that hold for the
// whole project: imports point down only, the core touches no clock, chance,
// file or network, and nothing that is tracked carries words that do not belong.
package layers
