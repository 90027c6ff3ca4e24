// Package chart draws printable tables of what goes with what, for a sheet of paper or a page of HTML. It draws
// finished answers; what the marks mean is said by whoever fills the sheet.
package chart
