// Package econ turns ledgers into money: it reads the price book, prices every
// plan line by line, ranks the plans and says what to do with the lot.
//
// All costs are positive numbers and
//
//	net = revenue − fees − reagents − energy − labour − consumables − disposal − storage
//
// at the central values of the inputs. The lot as it stands has endings of its
// own (dispose, sell as it stands, hold); the best of them is the baseline and
// gain = net − baseline. Acid and hours already spent on the lot are sunk and
// are not counted.
//
// Three masses are kept apart everywhere: contained metal (what the lot holds),
// recovered metal (what the products of a plan hold) and payable metal (what a
// buyer settles for).
//
// A price that a plan needs and the book does not hold blocks that plan with
// the name of the price; it is never taken as zero.
//
// Pricing is a function of a ledger and of plain values of the named inputs, so
// doubt can be worked out by calling it again at other values. The package
// knows no screen and reads no file.
package econ
