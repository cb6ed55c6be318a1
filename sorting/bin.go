// Package sorting holds the nouns that every stage shares: the bin as it was written down, and what
// the stages find out about it. It computes nothing; the packages below it do.
package sorting

import (
	"brinecut/polymers"
	"brinecut/polymers/cues"
	"brinecut/polymers/quantity"
)

// Origin says where scrap comes from; hard stops hang on it.
type Origin string

// The origins of a lot.
const (
	OwnPrint      Origin = "own-print"
	Moulded       Origin = "moulded"
	UnknownOrigin Origin = "unknown"
)

// State says how wet a weighed thing is.
type State string

// The states of a lot; a mass weighed wet is only an upper bound.
const (
	Dry        State = "dry"
	SurfaceDry State = "surface-dry"
	Wet        State = "wet"
)

// Prep says how a piece was prepared, which decides how much air a float test meets.
type Prep string

// The preparations of a piece.
const (
	AsIs  Prep = "as-is"
	Cut   Prep = "cut"
	Flake Prep = "flake"
)

// Bin is one bin file as read: every table in the order it was written. Line fields hold the line of
// the table's header, for messages.
type Bin struct {
	File     string // as named by the user; for messages only
	Title    string
	Currency string

	Floor     *Floor // [bin]; nil where no bin was weighed
	Scales    []Scale
	Printed   []Counter
	Spools    []Spool
	Kept      []Kept
	Thrown    []Thrown
	Known     []Known
	Lots      []Lot // [[lot]] tables only; see Splits and Merges for the rest
	Baths     []Bath
	Tests     []Observation // withdrawn ones left out
	Withdrawn []Withdrawal
	Splits    []Split
	Merges    []Merge
	Taken     []Taken
	Bags      []Bag
	Streams   []Stream
	Kit       Kit
	Place     Place
	Worth     Worth
	Outlets   []Outlet
	Supplier  *Supplier
}

// Floor is the [bin] table: what stands on the floor.
type Floor struct {
	Line        int
	Gross, Tare quantity.Mass
	Scale       ScaleRef
	Origin      Origin
	OriginGiven bool
	Opening     quantity.Mass // scrap of earlier builds already in it
	Hardware    quantity.Mass // magnets, inserts, tape thrown in with it
}

// ScaleRef is a scale by its smallest step, or by the name of a [[scale]]; both empty where not said.
type ScaleRef struct {
	Step quantity.Mass
	Name string
}

// Scale is a weighing scale whose error is common to all its readings.
type Scale struct {
	Line  int
	Name  string
	Step  quantity.Mass
	Error quantity.Fraction // relative standard uncertainty of its gain
}

// Counter is one [[printed]] row: what a machine, a job list or a spool says was printed.
type Counter struct {
	Line        int
	From        string
	Counted     quantity.Mass   // by mass, or
	Metres      quantity.Length // by length (mm) with Diameter
	Diameter    quantity.Length
	Jobs        string // name of a CSV beside the bin file
	JobRows     []Job  // its rows, filled by the command that may open files
	Error       quantity.Fraction
	SharedError quantity.Fraction
	Material    polymers.Symbol
	Hidden      []polymers.Symbol
	HiddenShare quantity.Fraction
}

// Job is one row of a job list.
type Job struct {
	Line              int
	Machine, Material string
	Mass              quantity.Gram
	Hours             float64
	Failed            bool
}

// Spool is weighed stock: an independent count of one material.
type Spool struct {
	Line          int
	Material      polymers.Symbol
	Before, After quantity.Mass
	ReelsOut      quantity.Mass
	Scale         ScaleRef
}

// Kept is what left as good parts.
type Kept struct {
	Line      int
	What      string
	Mass      quantity.Mass
	Hardware  quantity.Mass
	Materials []polymers.Symbol
	Scale     ScaleRef
}

// Thrown is scrap that never reached the bin.
type Thrown struct {
	Line int
	Mass quantity.Mass
	What string
}

// Known is a snippet whose material is certain.
type Known struct {
	Line     int
	Name     string
	Material polymers.Symbol
	Spool    string
	Colour   string
	Density  quantity.Density
}

// Lot is a pile that can be told apart, a side of a split, or a merge.
type Lot struct {
	Line        int
	Name        string
	Mass        quantity.Mass // or Gross and Tare
	Gross, Tare quantity.Mass
	Scale       ScaleRef
	State       State
	Pieces      int // about; 0 where not said
	CouldBe     []polymers.Symbol
	Mixed       *bool // nil: undecided
	Prep        Prep
	PrepGiven   bool
	Origin      Origin // the bin's default already applied
	OriginGiven bool   // said on the lot or on the bin
	Colour      string
	Form        string
	Heats       int
	Additives   []string
}

// Bath is a bath as mixed and checked; its error is common to all tests made in it.
type Bath struct {
	Line    int
	Name    string
	Salt    string
	Density quantity.Density
	Temp    quantity.Temperature
}

// Observation is one [[test]]. Exactly one of Lot and Known is set.
type Observation struct {
	Line    int
	ID      string
	At, By  string
	Note    string
	Lot     string
	Known   string
	Piece   int // 0: a fresh piece, not seen again
	Kind    cues.Kind
	Outcome string // empty where Counts or Flame are given, or the kind has none
	Counts  []Count
	Random  bool // drawn at random: supports a claim
	Prep    Prep // empty: the lot's
	UsedUp  quantity.Mass

	Bath      string
	Density   quantity.Density // of the bath, where no Bath is named
	Temp      quantity.Temperature
	Time      quantity.Time
	Thickness quantity.Length
	InAir     quantity.Mass
	InLiquid  quantity.Mass
	Liquid    quantity.Density
	Flame     *FlameCues
	Symbol    string // read on the piece
}

// Count is how many fresh pieces gave one outcome at once, in the order of the kind's outcomes.
type Count struct {
	Outcome string
	N       int
}

// FlameCues are what a flame showed; nil where a cue was not noted.
type FlameCues struct {
	Smoke   string // none, light, sooty
	Drips   *bool
	GoesOut *bool
}

// Withdrawal takes a recorded test back.
type Withdrawal struct {
	Line    int
	ID, Why string
}

// SplitKind is how a lot was divided.
type SplitKind string

// The kinds of split.
const (
	ByHand     SplitKind = "hand"
	BySieve    SplitKind = "sieve"
	ByMagnet   SplitKind = "magnet"
	ByFloat    SplitKind = "float"
	ByHotWater SplitKind = "hot-water"
	BySoak     SplitKind = "soak"
)

// Split is a lot divided at the bench; each side is a lot from then on.
type Split struct {
	Line    int
	Lot     string
	Kind    SplitKind
	Density quantity.Density
	Bath    string
	Temp    quantity.Temperature
	Loss    quantity.Mass
	Into    []Side
}

// Side is one side of a split: the lot it became and the outcome that put it there.
type Side struct {
	Lot
	Outcome string
}

// Merge puts lots together.
type Merge struct {
	Line int
	From []string
	Into string
	Lot  Lot // Into, as the lots it was put together from describe it: weakest origin, most melts
}

// Taken is what left a lot.
type Taken struct {
	Line int
	Lot  string
	Mass quantity.Mass
	For  string
}

// Bag is what is really in the sack that leaves.
type Bag struct {
	Line        int
	ID          string
	Lots        []string
	Gross, Tare quantity.Mass
	Scale       ScaleRef
}

// Stream is one flow of the user's own flow sheet. An empty From or To is the outside.
type Stream struct {
	Line     int
	Name     string
	From, To string
	Mass     quantity.Mass
	Scale    ScaleRef
	Material polymers.Symbol
}

// Kit is what is at the bench.
type Kit struct {
	Has     []string
	Allow   []string
	Forbid  []cues.Kind
	Minutes map[cues.Kind]quantity.Time
	Given   bool
}

// Place is what the bench stands in.
type Place struct {
	Drain          string // sewer, septic, none, unknown
	Exhaust        bool
	ChildrenOrPets bool
	Given          bool
}

// Worth holds what time and material are worth; a key not given has its default, listed as an assumption.
type Worth struct {
	Replaces    quantity.Of[quantity.MoneyPerKg]
	AsGoodAs    quantity.Fraction
	Yield       quantity.Fraction
	Energy      quantity.Of[quantity.KilowattHoursKg]
	Electricity quantity.Of[quantity.MoneyPerKWh]
	Consumables quantity.Of[quantity.MoneyPerKg]
	Disposal    quantity.Of[quantity.MoneyPerKg]
	Hours       quantity.Time
	Hour        quantity.Of[quantity.MoneyPerHour]
	Fixed       quantity.Of[quantity.Money]
}

// Outlet is where a fraction may go, beside the bench's own routes.
type Outlet struct {
	Line    int
	Name    string
	Accepts []polymers.Symbol
	Purity  quantity.Fraction
	Minimum quantity.Mass
	Pays    quantity.Of[quantity.MoneyPerKg]
	Refuses []string
}

// Supplier is printed on the hand-over sheet.
type Supplier struct {
	Name, Contact string
}
