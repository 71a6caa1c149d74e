//! The words of the layout file. A test compares each list with what the parser accepts.

use super::List;

/// Returns every enumeration of the file except the keys of the catalogue, in the order of the file.
pub fn file() -> Vec<List> {
    let mut lists = layout();
    lists.extend(ends());
    lists.extend(runs());
    lists
}

fn layout() -> Vec<List> {
    vec![
        List::new(
            "units",
            "`units` shown",
            [
                ("metric", "Millimetres, litres, m³/h"),
                ("us", "Feet and inches, US gallons"),
            ],
        ),
        List::new(
            "friction",
            "`friction` law",
            [
                ("darcy_weisbach", "Darcy–Weisbach with Colebrook–White"),
                ("hazen_williams", "Hazen–Williams"),
            ],
        ),
        List::new(
            "role",
            "`role` of a vessel",
            [
                ("tank", "Holds fish or other animals, or is a plain tank"),
                ("settler", "Lets solids settle"),
                ("filter", "Keeps solids back"),
                ("tower", "Water trickles down through it"),
                ("bed", "Plants grow in it"),
                (
                    "sump",
                    "The lowest vessel, which the pump usually draws from",
                ),
                ("header", "The highest vessel, from which water falls"),
                ("pond", "Open water, dug in or free-standing"),
                ("supply", "Water comes from it"),
                ("waste", "Water is discharged to it"),
            ],
        ),
        List::new(
            "fixed_role",
            "`role` of a fixed level",
            [
                ("supply", "Water comes from it"),
                ("waste", "Water is discharged to it"),
            ],
        ),
        List::new(
            "shape",
            "`shape` of a vessel",
            [
                ("round", "Round, with straight walls"),
                ("rectangular", "Rectangular, with straight walls"),
                ("prism", "Any straight-walled tank, by its plan area"),
                ("cone_bottom", "A cone below, a cylinder above it"),
                ("lying_drum", "A round drum on its side"),
                ("table", "Plan area by depth"),
            ],
        ),
    ]
}

fn ends() -> Vec<List> {
    vec![
        List::new(
            "opening",
            "`opening` of an end",
            [
                ("upstand", "A standpipe with its open lip at the crest"),
                ("side_hole", "A hole in the wall"),
                ("floor", "An outlet in the floor"),
                ("mouth", "An open end of pipe, in air or under water"),
                (
                    "submerged",
                    "A simplified end under water: a weir or orifice at its lip never limits the flow",
                ),
                (
                    "raised_intake",
                    "An overflow that draws near the floor, rises over a crest and falls again",
                ),
                ("notch", "A notch cut into the wall from above"),
            ],
        ),
        List::new(
            "turned",
            "`turned` of a mouth",
            [
                ("horizontal", "It faces sideways"),
                ("up", "It faces up"),
                ("down", "It faces down"),
            ],
        ),
        List::new(
            "crest",
            "`crest` of a raised intake",
            [
                ("tee", "The invert of a tee's branch: the side-hole law"),
                ("cup", "An open cup: the upstand law"),
            ],
        ),
        List::new(
            "vent",
            "`vent` of a raised intake",
            [
                (
                    "open",
                    "Open to the air, with no height given: water never leaves there",
                ),
                (
                    "open_to",
                    "An open pipe up to a given height, over which water leaves",
                ),
                ("shut", "Shut or missing"),
            ],
        ),
        List::new(
            "notch_shape",
            "`shape` of a notch",
            [
                ("rectangular", "A level crest between upright sides"),
                ("vee", "A vee on its point"),
            ],
        ),
        List::new(
            "edge",
            "`edge` of an end",
            [
                ("plain", "The layout's own coefficients"),
                ("flush", "Square, flush with the wall"),
                ("rounded", "Flush with the wall, rounded or bevelled"),
                ("projecting", "A thin pipe that projects into the vessel"),
                ("groove", "A pipe socket that faces the water"),
                ("mitred", "Cut off on a slope"),
            ],
        ),
    ]
}

fn runs() -> Vec<List> {
    vec![
        List::new(
            "pipe",
            "`pipe` of a run",
            [
                ("own", "Pipe of a bore that you give"),
                ("bought", "Pipe of the catalogue, by family and size"),
                ("open", "No pipe: an opening straight into the next vessel"),
            ],
        ),
        List::new(
            "direction",
            "direction, in `check_valve` and `pushes`",
            [
                ("forward", "From the end `from` to the end `to`"),
                ("backward", "From the end `to` to the end `from`"),
            ],
        ),
        List::new(
            "near",
            "end of a run, in `near` and `siphon_break.near`",
            [
                ("from", "At the end where the run starts"),
                ("to", "At the end where it goes"),
            ],
        ),
        List::new(
            "equipment_loss",
            "loss of equipment, in `clean`, `dirty` and `at_wash`",
            [
                ("terms", "h = a·Q + b·Q²"),
                ("points", "One or two points of its data sheet"),
            ],
        ),
        List::new(
            "curve",
            "`curve` of a pump",
            [
                ("points", "Points of its data sheet"),
                ("power", "h = h0 − c·Qⁿ"),
                (
                    "label",
                    "The largest head and flow on its label; the curve between them is a guess",
                ),
            ],
        ),
    ]
}
