package cues

var marked = entry{
	Test: Test{
		Kind:    Marked,
		Title:   "Read a marking moulded into the piece",
		Minutes: 0.3,
		Protocol: []string{
			"Look for a symbol between > and <, or a number in a triangle of arrows.",
			"Write down the symbol as it stands, with every sign in it.",
			"A sticker or a pen mark is a note, not a marking: record it only if you wrote it.",
		},
		PieceMust: "show a marking that belongs to this piece and not to something printed round it",
		Family:    marking,
		Source:    "katz98",
	},
}

var bend = entry{
	Test: Test{
		Kind:     Bend,
		Title:    "Bend a thin strip by hand",
		Outcomes: []string{"snaps", "whitens", "bends", "rubbery"},
		Minutes:  0.3,
		Protocol: []string{
			"Hold a strip in two pairs of pliers, or in gloved hands with the bend away from your face.",
			"Fold it slowly to a right angle across the layers' direction, not along a layer.",
			"snaps: it breaks with hardly any whitening. whitens: the fold turns white before it tears. bends: it folds or springs back unharmed. rubbery: it is limp and springs back at once.",
		},
		PieceMust: "be a strip of 1 to 2 mm, at room temperature, bent so that layers are not pulled apart",
		UsesUp:    false,
		Family:    feel,
		Source:    "conservation8 cp",
	},
	warn: []caution{
		{"Splinters fly when stiff plastic snaps: wear goggles and turn the bend away from faces.", "cp"},
		{"Edges of support are sharp: wear gloves.", "cp"},
		{"Do not break, sand or scrape fibre-filled pieces dry: loose fibres get on skin and into the air.", "strelkova25"},
	},
}

var soak = entry{
	Test: Test{
		Kind:     Soak,
		Title:    "Leave a piece in water",
		Outcomes: []string{"unchanged", "slimy", "dissolves"},
		Minutes:  1,
		Protocol: []string{
			"Rinse off glue and dust first: a film of glue stick goes slimy on any plastic.",
			"Put the piece in a jar of water at room temperature, and note the time and the temperature.",
			"After an hour, or the time you note, rub it between finger and thumb in a glove.",
			"slimy: the surface is slippery or sticky, or has turned to gel. dissolves: it has lost its shape or is gone. Otherwise unchanged.",
		},
		PieceMust: "be thin (up to 3 mm) and free of glue; a thick block only goes slimy outside",
		UsesUp:    true,
		Family:    water,
		Source:    "pva-grades inrs29 cp",
	},
	warn: []caution{
		{"Keep the water away from drains until you know what the local rules allow: gel of poly(vinyl alcohol) can block a pipe.", "cp"},
		{"Wipe up spills at once: water with dissolved support is slippery.", "cp"},
	},
}

// floater is what every piece that is floated must be, cut open or whole.
const floater = "wetted and free of bubbles. A floater may only be hiding air; a sinker cannot"

// floating is the protocol of a float test, given how its piece is got ready and wetted.
func floating(ready string) []string {
	return []string{
		"Check the density of the bath and note its temperature.",
		ready + " with a drop of dish soap and rub off every bubble.",
		"Push it under, let go without a swirl, and wait until it stands still: a small piece near the density of the bath takes minutes.",
		"floats: it comes up. sinks: it goes down. hovers: it does neither in two minutes.",
		"Rinse the piece in clean water afterwards.",
	}
}

// OnWhole is the test as it is done on a piece that must not be cut, since what it is made of would be in
// the dust.
func (t Test) OnWhole() Test {
	if t.Kind == Float {
		t.PieceMust = "be left whole, never cut; " + floater
		t.Protocol = floating("Leave the piece whole, and wet it")
	}
	return t
}

var float = entry{
	Test: Test{
		Kind:         Float,
		Title:        "Float or sink in a bath of known density",
		Outcomes:     []string{"floats", "hovers", "sinks"},
		Minutes:      1.5,
		SetUpMinutes: 10,
		Protocol:     floating("Cut the piece so that no infill is closed in, wet it"),
		PieceMust:    "be solid: cut open, " + floater,
		Family:       density,
		Source:       "katz98 etexts",
	},
	warn: []caution{
		{"Strong brine stings: wear goggles and gloves, and rinse eyes with plenty of water.", "cp"},
		{"Some salts heat the water as they dissolve: add them to the water a little at a time, stirring.", "cp"},
		{"An alcohol bath burns: no flame, no heat gun and no hot plate in the room, and air it.", "cp"},
		{"Use jars kept for this and never for food, labelled, out of reach of children and animals.", "cp"},
	},
}

var weigh = entry{
	Test: Test{
		Kind:    Weigh,
		Title:   "Weigh a piece dry, then hanging in water",
		Minutes: 4,
		Needs:   [][]string{{"scale 0.1 g"}},
		Protocol: []string{
			"Weigh the dry piece.",
			"Put a beaker of water on the scale and set it to zero; note the water's temperature.",
			"Hang the piece on a thin thread, wholly under water, touching nothing, without a bubble on it. The scale now shows the mass of water pushed aside.",
			"Record the dry mass, and the dry mass less what the scale shows as the mass in the liquid. A piece that floats needs a sinker, weighed alone the same way.",
			"On a scale that shows 0.1 g hang 100 g at once, many pieces of one kind in a bag of net; on one that shows 0.01 g a piece of 25 g will do.",
		},
		PieceMust: "be solid and dry; the larger, the better",
		Family:    density,
		Source:    "iso1183-1 astm-d792",
	},
	warn: []caution{
		{"Keep water off the mains lead of the scale.", "cp"},
	},
}
