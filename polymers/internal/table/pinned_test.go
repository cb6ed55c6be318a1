package table

// pinned are the counts and sums of the data files, a regression pin: it says that nothing changed,
// not that it is right.
var pinned = map[string]string{
	"polyesters":  "22 records, 214 values, density 26.577, Tg 557.6, melt 1858.1, process 1845.0, ceiling 2013.0",
	"styrenics":   "10 records, 141 values, density 11.069, Tg 817.0, melt 0.0, process 1352.5, ceiling 1259.0",
	"engineering": "17 records, 202 values, density 20.535, Tg 1317.0, melt 1732.0, process 3950.0, ceiling 3915.0",
	"elastomers":  "4 records, 31 values, density 4.560, Tg -82.0, melt 167.0, process 421.0, ceiling 480.0",
	"polyolefins": "4 records, 64 values, density 3.897, Tg -250.0, melt 403.5, process 675.0, ceiling 757.0",
	"vinyls":      "4 records, 52 values, density 4.750, Tg 318.5, melt 526.5, process 470.0, ceiling 495.0",
	"never_heat":  "6 records, 57 values, density 9.305, Tg 150.0, melt 667.5, process 0.0, ceiling 0.0",
}
