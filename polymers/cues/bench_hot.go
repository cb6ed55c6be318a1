package cues

var hotWater = entry{
	Test: Test{
		Kind:         HotWater,
		Title:        "Dip in hot water and press lightly",
		Outcomes:     []string{"stiff", "soft"},
		Minutes:      2,
		SetUpMinutes: 3,
		Needs:        [][]string{{"kettle"}, {"thermometer"}},
		Protocol: []string{
			"Set a deep, wide-based pan kept for plastics on a firm, low surface and bring the water to the temperature asked for, by thermometer.",
			"Hold a piece in long tongs under water: half a minute for 2 mm, three minutes for 4 mm, beside a piece you know.",
			"Press it lightly against the wall of the pan, still under water: a thin piece is cold in seconds once it is out.",
			"soft: it folds under that light touch, or hangs limp. stiff: it springs back. Read it in the first three minutes: some materials crystallise and stiffen again.",
			"Let the water cool before you empty the pan.",
		},
		PieceMust: "be up to 4 mm thick; thicker pieces need longer, and sparse infill slows the heat",
		Family:    softening,
		Source:    "ingeo-3d850 polyterra recoup",
	},
	warn: []caution{
		{"Scald: water of 60 °C burns through the skin in about five seconds and hotter water at once. Long tongs, no fingers.", "aba00 alabama"},
		{"No children and no animals in the room, and never carry the pan full.", "aba00"},
		{"Never use a pan that food goes into.", "cp"},
		{"See docs/safety.md, section 6 (hot water).", "cp"},
	},
}

var acetone = entry{
	Test: Test{
		Kind:     Acetone,
		Title:    "One drop of acetone for a minute",
		Outcomes: []string{"unchanged", "whitens", "tacky", "dissolves"},
		Minutes:  2,
		Needs:    [][]string{{"acetone"}},
		Protocol: []string{
			"Outdoors, or at an open window: put one drop on a clean, flat spot with a dropper and close the bottle.",
			"Do the same to a piece you know: a print reacts faster than solid stock, so only a printed piece compares.",
			"After a minute touch the spot with a wooden stick.",
			"dissolves: slime or strings. tacky: it sticks or has gone dull. whitens: white or finely cracked, and dry. Otherwise unchanged.",
			"Let the stick and the wipe dry outdoors before they are thrown out.",
		},
		PieceMust: "be clean and bare: no paint, primer, glue or coating",
		Solvent:   true,
		UsesUp:    true,
		Family:    solvent,
		Source:    "katz98 inrs4 erokhin19",
	},
	warn: []caution{
		{"Acetone burns and its vapour creeps along the floor to a flame: no flame, spark, hot plate or heat gun anywhere near, nor later in this session.", "ntp-acetone fire-eng87"},
		{"Never warm acetone.", "hackaday-acetone"},
		{"Air the room, keep it off skin and eyes, wear goggles; thin latex gloves do not hold it back.", "ntp-acetone memory"},
		{"Leftovers go to the hazardous-waste point, never down a drain.", "cp"},
		{"See docs/safety.md, section 8 (solvents and brine).", "cp"},
	},
}

var hotAir = entry{
	Test: Test{
		Kind:     HotAir,
		Title:    "Warm with a heat gun",
		Outcomes: []string{"no-change", "shrinks", "rubbery", "clear-melt", "milky-melt", "bubbles", "chars"},
		Minutes:  3,
		Needs:    [][]string{{"heat gun"}},
		Protocol: []string{
			"Only a piece you printed yourself, and only outdoors or under an exhaust that takes the air away from you.",
			"Lay a match-sized chip on metal or tile, nothing else that burns within a metre, water or an extinguisher at hand.",
			"Lowest setting, at arm's length, ten to twenty seconds. Stop at the first smoke.",
			"no-change: still firm. shrinks: it curls or draws together. rubbery: soft and dull, not running. clear-melt: it sags glossy or runs. milky-melt: it turns white as it softens. bubbles: it froths. chars: it browns.",
		},
		PieceMust: "be your own print of a known origin, dry, without flame retardant, paint, glue or inserts",
		Heats:     true,
		UsesUp:    true,
		Family:    softening,
		Source:    "callister matmake hse-pps13",
	},
	warn: []caution{
		{"Own prints only. Never poly(vinyl chloride), acetal, a fluoropolymer, anything flame-retarded, or a piece of unknown origin: they give off acid or poisonous gas, and no bench test rules them out.", "hse-pps13 hazmap248"},
		{"Every hot plastic gives off fume that can hurt eyes and lungs and cause asthma: stay upwind, and keep away children, pregnant people and anyone with asthma.", "hse-lung"},
		{"Common plastics can catch fire from about 340 °C, and the nozzle is hotter than that: never leave it, never go close.", "pslc-thermal"},
		{"Melt sticks and burns deep: heat gloves, goggles, and do not touch the piece until it is cold.", "inrs27"},
		{"No solvent may be open, or have been used, in the same session.", "cp"},
		{"See docs/safety.md, section 7 (heat gun, oven, melt).", "cp"},
	},
}

var flame = entry{
	Test: Test{
		Kind:  Flame,
		Title: "Hold a chip in a flame (last resort)",
		Cues: []Cue{
			{"smoke", []string{"none", "light", "sooty"}},
			{"drips", []string{"true", "false"}},
			{"goes_out", []string{"true", "false"}},
		},
		Minutes: 3,
		Needs:   [][]string{{"lighter"}},
		Protocol: []string{
			"Try every other test first. Only a piece you printed yourself, outdoors, an adult alone with it, upwind.",
			"A match-head chip in long metal tongs over a tray of sand or water.",
			"Hold it at the edge of the flame for two or three seconds, take the flame away, and watch for ten seconds from arm's length.",
			"smoke: none, light, or black with soot. drips: burning drops fall. goes_out: the flame dies within ten seconds, or never took.",
			"Drop it into the water. Only what was seen is recorded.",
		},
		PieceMust: "be your own print, the size of a match head, no blend, fibre or flame retardant known of",
		Heats:     true,
		UsesUp:    true,
		LastWay:   true,
		Family:    burning,
		Source:    "cuttosize molddb toolmaker boedeker",
	},
	warn: []caution{
		{"Never indoors, never on a piece you did not print, never on pipe, sheet, cable or anything that sinks fast.", "hse-pps13 hazmap248"},
		{"Burning plastic gives off carbon monoxide, and some kinds hydrogen cyanide or hydrogen chloride. Stay upwind and do not bend over it.", "hazmap248"},
		{"Burning drops stick and spread fire: nothing that burns below, water or sand at hand.", "hazmap248 cp"},
		{"No child, no pregnant person and nobody with asthma near.", "hse-lung"},
		{"Eyes or throat sting, head aches: stop, go into fresh air, call the poison centre or the emergency number.", "cp"},
		{"Local rules may forbid it: they come first.", "epa-burning"},
		{"See docs/safety.md, section 1 (hard stops) and section 7 (heat gun, oven, melt).", "cp"},
	},
}
