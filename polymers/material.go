// Package polymers is the handbook: what is known of each material that a printer's scrap bin can
// hold, each value with its range, its source and the kind of evidence behind it; names and markings;
// hazards and hard stops.
package polymers

// Symbol names a material as the trade writes it: "PLA", "PETG", "PA66-GF30".
type Symbol string

// Other stands for every material that is not on a candidate list.
const Other Symbol = "other"

// Evidence says how a value came about.
type Evidence string

// The kinds of evidence, strongest first.
const (
	Page           Evidence = "page"            // a published page or data sheet that was read
	Abstract       Evidence = "abstract"        // an abstract or a snippet only
	Declared       Evidence = "declared"        // stated by makers, collected as open data
	Computed       Evidence = "computed"        // by a named rule from other values
	CommonPractice Evidence = "common practice" // no published source
	Memory         Evidence = "from memory"     // no published source, recalled
	Judgement      Evidence = "judgement"       // an estimate of ours, declared as one
)

// Value is a property with its range. Low <= Typical <= High, in the unit its field names.
type Value struct {
	Low, Typical, High float64
	Source             string // id in the bibliography
	Evidence           Evidence
	Note               string // condition, or why this pick; may be empty
	From               Symbol // the record it is carried over from; empty for a value of the record's own
}

// Drying says how a form of a material is dried before it is melted.
type Drying struct {
	Form               string // "pellet" or "print scrap"
	TempC              Value  // °C; for amorphous print scrap below the glass transition
	Hours              Value
	MaxMoisturePercent *Value // percent by mass; nil where none is published
}

// Hazard is one thing that can hurt, with the words that go beside the step.
type Hazard struct {
	What   string // "fume", "acid gas", "fibre dust", …
	Words  string
	OnsetC *Value // °C, published onset of decomposition; nil where none
	Source string
}

// Material is one record of the handbook. Pointers are nil where the property does not exist or no
// value is known: an amorphous polymer has no Melt, a material that is never heated no Process.
type Material struct {
	Symbol     Symbol
	Name       string   // "poly(lactic acid)"
	Base       Symbol   // the symbol its share is summed under: PLA for tough, matt, silk, annealed PLA; itself otherwise
	Polymer    Symbol   // the polymer a filled grade is made of: PETG for PETG-CF; Base otherwise
	Variant    string   // "tough", "matt", …; empty for the plain grade
	Filler     string   // ISO 1043-2 term: "CF", "GF30"; empty
	OtherNames []string // accepted spellings
	Marking    string   // what is printed for others, ISO 11469: ">PVAL<"

	Density         Value    // g/cm3, void-free, at 20-25 °C
	DensitySpread   float64  // g/cm3, standard deviation between products on the market
	SpreadSource    string   // id in the bibliography
	GlassTransition *Value   // °C
	Melt            *Value   // °C; nil where amorphous
	Softens         *Value   // °C, at which a thin print (about 2 mm) goes limp in hot water; nil where it does not below 100 °C
	HeatDeflection  *Value   // °C, 0.45 MPa
	Process         *Value   // °C, melt window; nil where never heated
	CeilingC        *Value   // °C, never above; nil where never heated
	Onset           *Value   // °C, published onset of decomposition
	WaterUptake     *Value   // percent by mass, saturation in water at 23 °C
	SpecificHeat    *Value   // J/kg/K, of the melt side where known
	Conductivity    *Value   // W/m/K
	MeltEnthalpy    *Value   // kJ/kg of the sample as it comes
	Shrinkage       *Value   // percent, linear
	Rigid           bool     // false for rubbery materials
	WaterSoluble    bool     // soluble support
	Dry             []Drying // by form
	NeverHeat       bool     // hard stop: no route or test above 100 °C, whatever the flags
	NeverHeatWhy    string
	Foreign         bool // does not come out of a desktop printer as a rule (PVC, POM, PMMA sheet): only in bins that are not own print
	Hazards         []Hazard
	Alternates      []Alternate // what other sources say, by property; see Sources
}

// Alternate holds what other sources say of one property, best evidence first.
type Alternate struct {
	Property string // key of the data files, such as "density_g_cm3" or "dry print scrap temp_c"
	Values   []Value
}
