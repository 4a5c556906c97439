// Package workbook reads and writes .xlsx workbooks (Office Open XML, ISO/IEC
// 29500). Start with Sheet and Write.
//
// Reading gives a sheet's cells as texts (table.Grid); what the columns mean is
// package table's affair. A workbook comes from a stranger: its kind and sizes
// are looked at before anything is unpacked, nothing of it is run, nothing is
// written to disk. It is a room of its own because the live page does without it.
package workbook
