//! The figures in `tests/reference/`.

/// Files of outside values; add yours here.
const FILES: [&str; 6] = [
    include_str!("../../reference/checks.csv"),
    include_str!("../../reference/computed.csv"),
    include_str!("../../reference/networks.csv"),
    include_str!("../../reference/networks_computed.csv"),
    include_str!("../../reference/layouts/expected.csv"),
    include_str!("../../reference/peer/sample/rows.csv"),
];

/// One line of a reference file.
#[derive(Clone, Copy)]
pub struct Case {
    pub id: &'static str,
    pub group: &'static str,
    pub what: &'static str,
    pub inputs: &'static str,
    pub expected: &'static str,
    pub unit: &'static str,
    pub tolerance: &'static str,
    pub source: &'static str,
    pub how: &'static str,
}

impl Case {
    /// The input of this name; its unit is the end of the name.
    pub fn n(&self, name: &str) -> f64 {
        self.text(name).parse().expect("an input is a number")
    }

    /// The same where it is given.
    pub fn maybe(&self, name: &str) -> Option<f64> {
        let pairs = self.inputs.split(';');
        let mut named = pairs.filter_map(|pair| pair.trim().split_once('='));
        let (_, text) = named.find(|(key, _)| *key == name)?;
        Some(text.parse().expect("an input is a number"))
    }

    /// The input of this name as it stands.
    pub fn text(&self, name: &str) -> &'static str {
        self.inputs
            .split(';')
            .filter_map(|pair| pair.trim().split_once('='))
            .find(|(key, _)| *key == name)
            .unwrap_or_else(|| panic!("{} has no input {name}", self.id))
            .1
    }

    /// The lines of a file of outside values.
    pub fn all(file: &'static str) -> impl Iterator<Item = Case> {
        file.lines().skip(1).map(Case::parse)
    }

    fn parse(line: &'static str) -> Case {
        let fields = split(line);
        let [
            id,
            group,
            what,
            inputs,
            expected,
            unit,
            tolerance,
            source,
            how,
        ] = fields[..]
        else {
            panic!("not nine fields: {line}");
        };
        Case {
            id,
            group,
            what,
            inputs,
            expected,
            unit,
            tolerance,
            source,
            how,
        }
    }
}

/// Fields of a CSV line; a field in quotes may hold commas but no quotes.
fn split(line: &'static str) -> Vec<&'static str> {
    let mut fields = Vec::new();
    let mut rest = Some(line);
    while let Some(text) = rest {
        let (field, after) = match text.strip_prefix('"') {
            Some(quoted) => {
                let (field, after) = quoted.split_once('"').expect("a closing quote");
                (field, after.strip_prefix(','))
            }
            None => match text.split_once(',') {
                Some((field, after)) => (field, Some(after)),
                None => (text, None),
            },
        };
        fields.push(field);
        rest = after;
    }
    fields
}

pub fn cases() -> impl Iterator<Item = Case> {
    FILES
        .into_iter()
        .flat_map(|file| file.lines().skip(1))
        .map(Case::parse)
}

/// The case of this id in the reference files.
pub fn case(id: &str) -> Case {
    cases()
        .find(|case| case.id == id)
        .unwrap_or_else(|| panic!("no reference value {id}"))
}
