// Package unit reads, converts and prints the units of the trade.
//
// Parse reads a unit ("kWh/100 km", "N s2/m2"), ParseNumber a number, and a
// Unit converts between the two sides of the edge: inside everything is SI,
// and conversion happens once. A factor is kept as a quotient of whole numbers
// where the definition allows, so that 68 g is the double nearest to 0.068 kg.
//
// An absolute temperature and a difference are not confused: degC and degF
// stand only alone and have a zero of their own (ToSI), differences and
// standard deviations use DeltaToSI; K serves both. Money is a base quantity;
// any three capitals that are no unit are a currency code of the form of ISO
// 4217, whose list is not checked. Nothing converts between currencies, and
// that a study has only one is for its reader to check, by Currency.
//
// Sources: SI brochure, 9th edition (BIPM 2019), for the SI; NIST Special
// Publication 811 (2008), appendix B, for the others; both from memory.
//
// It does not know logarithmic units, prefixes beyond those of List, currency
// rates, or words in other languages.
package unit
