// Package bath knows the liquids of a float/sink bath: what density a solution has at a mass
// fraction and a temperature, the recipe for a wanted density from the product at hand, what
// densities a kit can reach, and how a mixed bath is checked.
//
// Ten liquids beside plain water. Water follows Tanaka et al. (2001), above 40 °C Kell (1975);
// the electrolytes follow Laliberté and Cooper (2004) and Laliberté (2009), except potassium
// carbonate, whose published coefficients miss the handbook table; the others follow published
// tables and equations named beside them. Numbers that are common practice or from memory say so.
//
// A recipe gets near; a measurement sets the bath: the strength of a household product is the
// largest doubt of any recipe. All functions are pure, and every density is at 101.325 kPa.
package bath
