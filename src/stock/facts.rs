//! What is known of an item, whether or not there is any of it.

use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, HashMap};

use rusqlite::{Connection, Params, params};
use serde::{Deserialize, Serialize};

use super::allergens::{OnLabel, Says, on_label};
use super::apart::HOUSEHOLD;
use super::by_feel::Candidate;
use super::clocks;
use super::columns::{parse_column, parse_json, unreadable};
use super::feel::Feel;
use super::items;
use super::ledger::Fault;
use super::lots::name_column;
use super::names::{Allergen, ItemName, OwnWords, Place, Section};
use super::outcome::Outcome;
use crate::guide::{self, NotFood};

/// What sort of thing an item is. Medicines never share marks or advice with food.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ItemKind {
    /// To be eaten or drunk.
    #[default]
    Food,
    /// A medicine.
    Medicine,
    /// Anything else in the house.
    Household,
}

impl From<NotFood> for ItemKind {
    fn from(kind: NotFood) -> Self {
        match kind {
            NotFood::Medicine => Self::Medicine,
            NotFood::Household => Self::Household,
        }
    }
}

impl ItemKind {
    const ALL: [Self; 3] = [Self::Food, Self::Medicine, Self::Household];

    /// What a thing is as long as nobody says otherwise: no bleach is food.
    ///
    /// ```
    /// use tellshelf::stock::{ItemKind, ItemName};
    /// let by_name = |name| ItemKind::by_name(&ItemName::new(name).unwrap());
    /// assert_eq!(by_name("ibuprofen"), ItemKind::Medicine);
    /// assert_eq!(by_name("rice"), ItemKind::Food);
    /// ```
    pub fn by_name(item: &ItemName) -> Self {
        guide::not_food(item.as_str()).map_or(Self::Food, Self::from)
    }

    /// The word for it.
    pub fn name(self) -> &'static str {
        match self {
            Self::Food => "food",
            Self::Medicine => "medicine",
            Self::Household => "household",
        }
    }
}

/// One thing that is known of an item. A new fact of the same sort takes the place of the old one; only steps are added
/// to each other.
///
/// ```
/// use tellshelf::stock::{Fact, OwnWords};
/// let fact = Fact::Directions(OwnWords::new("boil ten minutes").unwrap());
/// let text = serde_json::to_string(&fact).unwrap();
/// assert_eq!(text, r#"{"what":"directions","value":"boil ten minutes"}"#);
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "what", content = "value", rename_all = "kebab-case")]
pub enum Fact {
    /// What sort of thing it is.
    Kind(ItemKind),
    /// Where in the store it is.
    Section(Section),
    /// Where at home it belongs.
    Place(Place),
    /// How it is prepared, as the person had it read to them: the first of its steps, or all of them in one text.
    Directions(OwnWords),
    /// One more step of that, behind the others.
    Step(OwnWords),
    /// The make or size they like.
    Make(OwnWords),
    /// What a helper should know who shops for it.
    Note(OwnWords),
    /// What its label says of an allergen.
    Allergen {
        /// Which.
        allergen: Allergen,
        /// Whether the label has it. If not, the label was read, and doesn't list it.
        contains: bool,
    },
    /// What its label says of several, or that it may contain them.
    Label {
        /// What it says.
        says: Says,
        /// Of which.
        allergens: Vec<Allergen>,
    },
    /// How it feels. Each property takes the place of the old one of its kind.
    Feel(Feel),
}

impl Fact {
    /// What sort of fact it is, as it is spoken of.
    pub fn name(&self) -> &'static str {
        match self {
            Self::Kind(_) => "kind",
            Self::Section(_) => "section",
            Self::Place(_) => "place",
            Self::Directions(_) => "directions",
            Self::Step(_) => "last step",
            Self::Make(_) => "make",
            Self::Note(_) => "note",
            Self::Allergen { .. } | Self::Label { .. } => "label",
            Self::Feel(_) => "feel",
        }
    }

    /// What a label says of allergens, as a fact.
    ///
    /// ```
    /// use tellshelf::stock::{Allergen, Fact, Says};
    /// let fact = Fact::of_label(Says::MayContain, vec![Allergen::new("milk").unwrap()]);
    /// assert_eq!(fact.label().unwrap().0, Says::MayContain);
    /// ```
    pub fn of_label(says: Says, mut allergens: Vec<Allergen>) -> Self {
        match (says, allergens.len()) {
            (Says::Contains | Says::NotListed, 1) => Self::Allergen {
                allergen: allergens.remove(0),
                contains: says == Says::Contains,
            },
            _ => Self::Label { says, allergens },
        }
    }

    /// What it says of the label, if it is of that.
    pub fn label(&self) -> Option<(Says, &[Allergen])> {
        match self {
            Self::Allergen { allergen, contains } => {
                let says = match contains {
                    true => Says::Contains,
                    false => Says::NotListed,
                };
                Some((says, std::slice::from_ref(allergen)))
            }
            Self::Label { says, allergens } => Some((*says, allergens)),
            _ => None,
        }
    }
}

/// All that is known of an item. What is absent isn't known: it is never taken for a no.
///
/// ```
/// use tellshelf::stock::{Allergen, Facts, OnLabel};
/// let known = Facts::default();
/// assert_eq!(known.on_label(&Allergen::new("milk").unwrap()), OnLabel::Unknown(vec![]));
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Facts {
    /// What sort of thing it is.
    pub kind: ItemKind,
    /// Where in the store it is.
    pub section: Option<Section>,
    /// Where at home it belongs.
    pub place: Option<Place>,
    /// Where it was put the last time.
    pub last_place: Option<Place>,
    /// How it is prepared, in the order in which that was said; none where nobody said it.
    pub directions: Vec<OwnWords>,
    /// The make or size they like.
    pub make: Option<OwnWords>,
    /// What a helper should know.
    pub note: Option<OwnWords>,
    /// What its label says of allergens, in the order of the alphabet.
    pub allergens: Vec<(Allergen, Says)>,
    /// How it feels.
    pub feel: Feel,
}

/// Notes a fact.
pub(super) fn describe(
    connection: &Connection,
    item: &ItemName,
    fact: &Fact,
) -> Result<Outcome, Fault> {
    let id = items::find_or_make(connection, item)?;
    let note = |what: &str, which: &str, value: &str| {
        let note = "INSERT INTO fact (item, what, which, value) VALUES (?1, ?2, ?3, ?4)
            ON CONFLICT (item, what, which) DO UPDATE SET value = excluded.value";
        connection.execute(note, params![id, what, which, value])
    };
    match fact {
        Fact::Kind(kind) => {
            note("kind", "", kind.name())?;
            clocks::reckon(connection, item)?;
            0
        }
        Fact::Section(section) => note("section", "", section.as_str())?,
        Fact::Place(place) => note("place", "", place.as_str())?,
        Fact::Directions(words) => {
            // These are other directions, and not another first step of the old ones.
            let steps = "DELETE FROM fact WHERE item = ?1 AND what = 'directions'";
            connection.execute(steps, [id])?;
            note("directions", FIRST_STEP, words.as_str())?
        }
        Fact::Step(words) => {
            let steps = "SELECT count(*) FROM fact WHERE item = ?1 AND what = 'directions'";
            let before: u32 = connection.query_row(steps, [id], |row| row.get(0))?;
            let which = match before {
                0 => FIRST_STEP.to_owned(),
                _ => (before + 1).to_string(),
            };
            note("directions", &which, words.as_str())?
        }
        Fact::Make(words) => note("make", "", words.as_str())?,
        Fact::Note(words) => note("note", "", words.as_str())?,
        Fact::Allergen { .. } | Fact::Label { .. } => {
            let (says, allergens) = fact.label().unwrap_or((Says::NotListed, &[]));
            for allergen in allergens {
                if says == Says::NotListed {
                    forget_kinds(connection, id, allergen)?;
                }
                note("allergen", allergen.as_str(), value_of(says))?;
            }
            0
        }
        Fact::Feel(feel) => {
            for (property, value) in BTreeMap::from(*feel) {
                note("feel", &property, &value)?;
            }
            0
        }
    };
    Ok(Outcome::Described {
        item: item.clone(),
        fact: fact.clone(),
    })
}

/// Notes where an item was put: there it is expected the next time.
pub(super) fn note_last_place(
    connection: &Connection,
    item: i64,
    place: &Place,
) -> rusqlite::Result<()> {
    let note = "INSERT INTO fact (item, what, which, value) VALUES (?1, ?2, '', ?3)
        ON CONFLICT (item, what, which) DO UPDATE SET value = excluded.value";
    connection.execute(note, params![item, LAST_PLACE, place.as_str()])?;
    Ok(())
}

const LAST_PLACE: &str = "last-place";

/// Which step the first is, as it is kept: as it was while directions were one text. The others have their number.
const FIRST_STEP: &str = "";

const CONTAINS: &str = "contains";
const MAY_CONTAIN: &str = "may contain";
const NOT_LISTED: &str = "not listed";
const NOT_LISTED_BEFORE: &str = "not listed before";

fn value_of(says: Says) -> &'static str {
    match says {
        Says::Contains => CONTAINS,
        Says::MayContain => MAY_CONTAIN,
        Says::NotListed => NOT_LISTED,
        Says::NotListedBefore => NOT_LISTED_BEFORE,
    }
}

fn says(value: &str) -> Says {
    match value {
        CONTAINS => Says::Contains,
        MAY_CONTAIN => Says::MayContain,
        NOT_LISTED => Says::NotListed,
        _ => Says::NotListedBefore,
    }
}

/// A label that lists none of an allergen has none of its kinds either, whatever was said before.
fn forget_kinds(connection: &Connection, item: i64, allergen: &Allergen) -> rusqlite::Result<()> {
    let mut forget = connection
        .prepare_cached("DELETE FROM fact WHERE item = ?1 AND what = 'allergen' AND which = ?2")?;
    for kind in allergen.related() {
        if kind.is_kind_of(allergen) && kind != *allergen {
            forget.execute(params![item, kind.as_str()])?;
        }
    }
    Ok(())
}

/// Another pack of an item came in: that a label lists no allergen was read on an earlier one. What it contains may stay,
/// since that hurts nobody.
pub(super) fn note_new_pack(connection: &Connection, item: &ItemName) -> rusqlite::Result<()> {
    let mut note = connection.prepare_cached(
        "UPDATE fact SET value = ?2 WHERE what = 'allergen' AND value = ?3
             AND item = (SELECT id FROM item WHERE name = ?1)",
    )?;
    note.execute([item.as_str(), NOT_LISTED_BEFORE, NOT_LISTED])?;
    Ok(())
}

/// All that is known of an item.
pub(super) fn of_item(connection: &Connection, item: &ItemName) -> rusqlite::Result<Facts> {
    let mut query = connection.prepare_cached(
        "SELECT what, which, value FROM fact JOIN item ON item.id = fact.item
         WHERE name = ?1 ORDER BY what, which",
    )?;
    let mut rows = query.query([item.as_str()])?;
    let mut facts = Facts {
        kind: ItemKind::by_name(item),
        ..Facts::default()
    };
    let mut feel = BTreeMap::new();
    let mut steps = BTreeMap::new();
    while let Some(row) = rows.next()? {
        let (what, which, value): (String, String, String) =
            (row.get(0)?, row.get(1)?, row.get(2)?);
        match what.as_str() {
            "feel" => {
                feel.insert(which, value);
            }
            "directions" => {
                let at: u32 = match which.as_str() {
                    FIRST_STEP => 1,
                    number => parse_column(1, number)?,
                };
                steps.insert(at, name_column(2, &value, OwnWords::new)?);
            }
            _ => add(&mut facts, &what, &which, &value)?,
        }
    }
    facts.directions = steps.into_values().collect();
    facts.feel = Feel::try_from(feel).map_err(|e| unreadable(2, Box::new(e)))?;
    Ok(facts)
}

fn add(facts: &mut Facts, what: &str, which: &str, value: &str) -> rusqlite::Result<()> {
    match what {
        "kind" => {
            let kind = ItemKind::ALL.into_iter().find(|kind| kind.name() == value);
            facts.kind = kind.unwrap_or_default();
        }
        "section" => facts.section = Some(name_column(2, value, Section::new)?),
        "place" => facts.place = Some(name_column(2, value, Place::new)?),
        LAST_PLACE => facts.last_place = Some(name_column(2, value, Place::new)?),
        "make" => facts.make = Some(name_column(2, value, OwnWords::new)?),
        "note" => facts.note = Some(name_column(2, value, OwnWords::new)?),
        "allergen" => {
            let allergen = name_column(1, which, Allergen::new)?;
            facts.allergens.push((allergen, says(value)));
        }
        _ => {}
    }
    Ok(())
}

/// All that is in the house or on its way there and can be told by hand, with how it feels, its marks and places.
pub(super) fn candidates(connection: &Connection) -> rusqlite::Result<Vec<Candidate>> {
    let known = format!(
        "id IN (SELECT item FROM fact WHERE what IN ('feel', 'kind') UNION ALL {MARKED})
         AND (EXISTS (SELECT 1 FROM lot WHERE lot.item = item.id)
             OR EXISTS (SELECT 1 FROM tag WHERE tag.item = item.id)
             OR EXISTS (SELECT 1 FROM basket WHERE basket.item = item.id))"
    );
    gather(connection, &known, MARKS, [])
}

/// Of these, what may be taken for an item in a place: what is there in the same container, and what is there and has a
/// mark; with the item itself.
pub(super) fn beside(
    connection: &Connection,
    item: &ItemName,
    place: &Place,
) -> rusqlite::Result<Vec<Candidate>> {
    let Some(id) = items::find(connection, item)? else {
        return Ok(Vec::new());
    };
    let beside = format!(
        "id IN (SELECT item FROM fact WHERE what = 'feel' AND which = 'container' AND value =
                (SELECT value FROM fact WHERE item = ?1 AND what = 'feel' AND which = 'container')
            UNION ALL {MARKED})
         AND EXISTS (SELECT 1 FROM lot WHERE lot.item = item.id AND lot.place = ?2)"
    );
    // A mark that is on some of it elsewhere is no mark here.
    let marks = "SELECT found.*, 'mark', '', mark FROM found CROSS JOIN lot ON lot.item = found.id
        WHERE lot.place = ?2 AND mark IS NOT NULL";
    gather(connection, &beside, marks, params![id, place.as_str()])
}

/// Of these, what has a mark.
pub(super) fn marked(connection: &Connection) -> rusqlite::Result<Vec<Candidate>> {
    gather(connection, &format!("id IN ({MARKED})"), MARKS, [])
}

/// The items that have a mark.
const MARKED: &str = "SELECT item FROM lot WHERE mark IS NOT NULL
    UNION ALL SELECT item FROM tag WHERE mark IS NOT NULL
    UNION ALL SELECT item FROM basket WHERE mark IS NOT NULL";

/// The marks of what was found, wherever there is some of it.
const MARKS: &str = "SELECT found.*, 'mark', '', mark FROM found CROSS JOIN lot ON lot.item = found.id
        WHERE mark IS NOT NULL
    UNION ALL SELECT found.*, 'mark', '', mark FROM found CROSS JOIN tag ON tag.item = found.id
        WHERE mark IS NOT NULL
    UNION ALL SELECT found.*, 'mark', '', mark FROM found CROSS JOIN basket ON basket.item = found.id
        WHERE mark IS NOT NULL";

/// The items of which this is true, with these of their marks, in the order in which they were first mentioned.
///
/// What is known of them comes as rows of one kind, one for each thing that is known: to put it all together within the
/// database takes longer. Places are, as there are far fewer of them than lots.
fn gather(
    connection: &Connection,
    which: &str,
    marks: &str,
    parameters: impl Params,
) -> rusqlite::Result<Vec<Candidate>> {
    let mut query = connection.prepare_cached(&format!(
        "WITH found AS MATERIALIZED (SELECT id, name FROM item WHERE {which})
         SELECT found.*, what, which, value FROM found CROSS JOIN fact ON fact.item = found.id
             WHERE what IN ('feel', 'kind')
         UNION ALL {marks}
         UNION ALL SELECT found.*, 'places', '',
             (SELECT json_group_array(DISTINCT place) FROM lot
                 WHERE lot.item = found.id AND place IS NOT NULL)
             FROM found"
    ))?;
    let mut rows = query.query(parameters)?;
    let mut found: BTreeMap<i64, (Candidate, BTreeMap<String, String>)> = BTreeMap::new();
    while let Some(row) = rows.next()? {
        let (known, feel) = match found.entry(row.get(0)?) {
            Entry::Occupied(known) => known.into_mut(),
            Entry::Vacant(new) => {
                let item = name_column(1, row.get_ref(1)?.as_str()?, ItemName::new)?;
                let candidate = Candidate {
                    medicine: ItemKind::by_name(&item) == ItemKind::Medicine,
                    item,
                    feel: Feel::UNKNOWN,
                    marks: Vec::new(),
                    places: Vec::new(),
                };
                new.insert((candidate, BTreeMap::new()))
            }
        };
        let value = row.get_ref(4)?.as_str()?;
        match row.get_ref(2)?.as_str()? {
            "feel" => {
                feel.insert(row.get(3)?, value.to_owned());
            }
            "kind" => known.medicine = value == ItemKind::Medicine.name(),
            "mark" => {
                let mark = parse_column(4, value)?;
                if !known.marks.contains(&mark) {
                    known.marks.push(mark);
                }
            }
            _ => known.places = parse_json(4, value)?,
        }
    }
    let found = found.into_values().map(|(known, feel)| {
        let feel = Feel::try_from(feel).map_err(|e| unreadable(4, Box::new(e)))?;
        Ok(Candidate { feel, ..known })
    });
    found.collect()
}

/// What was read of a label.
type Read = Vec<(Allergen, Says)>;

/// Something to eat, and what its label says of an allergen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LabelOf {
    /// What it is.
    pub item: ItemName,
    /// Whether there is any of it, or some is on its way.
    pub is_there: bool,
    /// What the label says.
    pub says: OnLabel,
}

/// What is in the house or on its way there, and what else a label was read of, with what it says of an allergen.
pub(super) fn of_allergen(
    connection: &Connection,
    allergen: &Allergen,
) -> rusqlite::Result<Vec<LabelOf>> {
    let mut read = labels(connection, allergen)?;
    let mut query = connection.prepare_cached(&format!(
        "SELECT id, name, EXISTS (SELECT 1 FROM lot WHERE lot.item = item.id)
                OR EXISTS (SELECT 1 FROM tag WHERE tag.item = item.id)
                OR EXISTS (SELECT 1 FROM basket WHERE basket.item = item.id)
         FROM item
         WHERE id NOT IN ({}) ORDER BY name",
        *HOUSEHOLD
    ))?;
    let mut rows = query.query([])?;
    let mut found = Vec::new();
    while let Some(row) = rows.next()? {
        let (known, is_there) = (read.remove(&row.get(0)?), row.get(2)?);
        if is_there || known.is_some() {
            found.push(LabelOf {
                item: name_column(1, row.get_ref(1)?.as_str()?, ItemName::new)?,
                is_there,
                says: on_label(&known.unwrap_or_default(), allergen),
            });
        }
    }
    Ok(found)
}

/// What was read of an allergen and all that has to do with it, by item: asked for by itself, it takes a third of the time.
fn labels(connection: &Connection, allergen: &Allergen) -> rusqlite::Result<HashMap<i64, Read>> {
    let mut query = connection.prepare_cached(
        "SELECT item, which, value FROM fact
         WHERE what = 'allergen' AND which IN (SELECT value FROM json_each(?1))",
    )?;
    let related = serde_json::to_string(&allergen.related())
        .map_err(|e| rusqlite::Error::ToSqlConversionFailure(Box::new(e)))?;
    let mut rows = query.query([related])?;
    let mut read: HashMap<i64, Read> = HashMap::new();
    while let Some(row) = rows.next()? {
        let which = name_column(1, row.get_ref(1)?.as_str()?, Allergen::new)?;
        let known = read.entry(row.get(0)?).or_default();
        known.push((which, says(row.get_ref(2)?.as_str()?)));
    }
    Ok(read)
}
