//! One row of the catalogue.

use super::dissolution::Dissolution;
use super::fault::MatterError;
use crate::matter::formula::Formula;

/// How a value came about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Confidence {
    /// Looked up in the source named.
    Checked,
    /// Computed here from checked inputs.
    Computed,
    /// From memory, not yet checked.
    Memory,
}

/// Where a value comes from and how sure it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mark {
    /// How the value came about.
    pub confidence: Confidence,
    /// Key of the source in `data/sources.tsv`.
    pub source: &'static str,
}

/// How far a row as a whole can be relied on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Trust {
    /// High.
    High,
    /// Middling.
    Medium,
    /// Low: check the supplier's sheet first.
    Low,
}

/// The shape in which a row is handled.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Form {
    /// A powder, granules, crystals or lumps.
    Solid,
    /// A liquid of stated strength; the formula is what is dissolved, the assay its share.
    Solution,
    /// A gas from a cylinder.
    Gas,
    /// Exists only in water and is not weighed.
    OnlyInSolution,
    /// A solid that forms in a water but is not sold.
    Phase,
}

/// What the formula of a row stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FormulaIs {
    /// The article itself.
    Exact,
    /// A nominal composition: what is sold varies, so the assay must be stated.
    Nominal,
    /// The substance dissolved in the liquid that is sold.
    Dissolved,
    /// The repeating unit of a chain of varying length.
    RepeatUnit,
    /// There is no single formula.
    Varies,
}

/// Whether a row may go into a drink at all.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FoodUse {
    /// Known to food law for general use; dose and local law are still to be checked.
    Yes,
    /// No food use, or none in drinks.
    NotFood,
    /// Stands in old recipes and must not be used.
    PoisonInOldRecipes,
}

impl FoodUse {
    /// The word used at the doors.
    pub fn word(self) -> &'static str {
        match self {
            FoodUse::Yes => "yes",
            FoodUse::NotFood => "not_food",
            FoodUse::PoisonInOldRecipes => "poison_in_old_recipes",
        }
    }
}

/// What a row is used for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum UseClass {
    /// An ingredient.
    Food,
    /// An aid to treatment, such as taking out chlorine.
    Process,
    /// Only within narrow doses or where the law allows it.
    Restricted,
    /// Stands in old recipes and analyses.
    History,
    /// Not an article: a form that exists in water only.
    Concept,
    /// A laboratory reagent.
    LabOnly,
}

/// A range of a value; one end may be missing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// Lower end; alone it is the usual value.
    pub lo: f64,
    /// Upper end, where one is known.
    pub hi: Option<f64>,
    /// Where it comes from.
    pub mark: Mark,
}

/// The assay that the trade sells.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Assay {
    /// g per 100 g weighed (gases: by volume): least, and most where known. Hydrates that lose water pass 100.
    pub percent: Range,
    /// What the assay counts: `None` for the stated formula, else another formula or an element, such as `Mg`.
    pub of: Option<&'static str>,
}

/// An additive number or standing with its mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Additive {
    /// The number or words: `500(ii)`, `E500(ii)`, `GRAS 184.1736`.
    pub text: &'static str,
    /// Where it comes from.
    pub mark: Mark,
}

/// What a row needs before it goes into a drink clear.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Needs {
    /// CO2 or an acid: plain water does not take it up at drink strength, or not fit to drink.
    Co2OrAcid,
    /// An acid.
    Acid,
    /// Time and stirring only; it does dissolve.
    Time,
    /// Nothing helps: it stays a haze.
    Never,
}

impl Needs {
    /// The word used at the doors.
    pub fn word(self) -> &'static str {
        match self {
            Needs::Co2OrAcid => "co2_or_acid",
            Needs::Acid => "acid",
            Needs::Time => "time",
            Needs::Never => "never",
        }
    }
}

/// What a row needs to dissolve, and why.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Need {
    /// What it needs.
    pub needs: Needs,
    /// Why, in words for the maker.
    pub why: &'static str,
    /// Where that comes from.
    pub mark: Mark,
}

impl Need {
    /// Whether plain water will not do: it needs CO2 or acid, or never dissolves clear.
    pub fn bars_plain_water(&self) -> bool {
        self.needs != Needs::Time
    }
}

/// A hazard in handling.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Hazard {
    /// Alkaline: harms eyes and skin.
    Caustic,
    /// Acid: harms eyes and skin.
    Acid,
    /// Feeds fire.
    Oxidising,
    /// Harmful dust.
    Dust,
    /// Heat on dissolving.
    Heat,
    /// Choking fumes.
    Fumes,
    /// Harmful if swallowed or otherwise taken up undiluted.
    Harmful,
    /// Must be declared as an allergen.
    Allergen,
    /// Drives out air.
    Asphyxiant,
    /// A cylinder under pressure.
    Pressure,
    /// Burns.
    Flammable,
}

impl Hazard {
    /// The word used in codes at the doors.
    pub fn word(self) -> &'static str {
        match self {
            Hazard::Caustic => "caustic",
            Hazard::Acid => "acid",
            Hazard::Oxidising => "oxidising",
            Hazard::Dust => "dust",
            Hazard::Heat => "heat",
            Hazard::Fumes => "fumes",
            Hazard::Harmful => "harmful",
            Hazard::Allergen => "allergen",
            Hazard::Asphyxiant => "asphyxiant",
            Hazard::Pressure => "pressure",
            Hazard::Flammable => "flammable",
        }
    }
}

/// A hazard in handling and what to do about it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Handling {
    /// Which hazard.
    pub hazard: Hazard,
    /// What to mind, in words for the maker.
    pub text: &'static str,
    /// Where that comes from.
    pub mark: Mark,
}

/// One article of the catalogue. Molar masses and waters of crystallisation follow from the formula and are stored
/// nowhere else.
#[derive(Clone, Debug)]
pub struct Salt {
    /// Systematic id with the hydrate word; it never changes.
    pub id: &'static str,
    /// Name for people.
    pub name: &'static str,
    /// The shape in which it is handled.
    pub form: Form,
    /// Formula with its water; `None` where composition varies too much for one.
    pub formula: Option<Formula>,
    /// What the formula stands for.
    pub formula_is: FormulaIs,
    /// Why the formula is not the article itself; empty where it is.
    pub formula_note: &'static str,
    /// CAS number.
    pub cas: &'static str,
    /// Where the CAS number comes from.
    pub cas_mark: Mark,
    /// What it gives to a water; `None` where that cannot be computed. See [`Salt::dissolution`].
    pub gives: Option<Dissolution>,
    /// Whether it may go into a drink at all.
    pub food_use: FoodUse,
    /// What it is used for.
    pub use_class: UseClass,
    /// Why it is refused, or what to weigh in its place; empty for what may be weighed.
    pub refusal: &'static str,
    /// Codex INS number.
    pub ins: Option<Additive>,
    /// E number of the Union list; a label may print an E number only from here.
    pub eu_e: Option<Additive>,
    /// Standing in United States food law.
    pub us_status: Option<Additive>,
    /// How it is sold.
    pub sold_as: &'static str,
    /// Assay of the trade.
    pub assay: Option<Assay>,
    /// Loose bulk density in g/mL, both ends of what lots show.
    pub bulk_density: Option<Range>,
    /// pH of a 1 % solution or slurry at 25 °C.
    pub ph_of_1_percent: Option<Range>,
    /// Relative humidity in % at 25 °C above which it takes up water until it flows.
    pub deliquesces_at: Option<Range>,
    /// How it takes up or loses water; empty where not noted.
    pub moisture: &'static str,
    /// What it must not meet; empty where not noted.
    pub incompatible: &'static str,
    /// What it needs to dissolve into a drink; `None` where plain water will do.
    pub needs: Option<Need>,
    /// Hazards in handling.
    pub handling: Vec<Handling>,
    /// Trade names.
    pub synonyms: Vec<&'static str>,
    /// Names of old books.
    pub historical_names: Vec<&'static str>,
    /// Anything else worth knowing.
    pub notes: &'static str,
    /// How far the row as a whole can be relied on.
    pub trust: Trust,
    /// Where the row as a whole comes from.
    pub source: &'static str,
    /// Position of its solubility curve.
    pub(super) curve: Option<usize>,
    /// Whether it mixes with water in every ratio.
    pub(super) miscible: bool,
}

impl Salt {
    /// Molar mass of the stated formula in g/mol, water of crystallisation included.
    pub fn molar_mass(&self) -> Option<f64> {
        self.formula.as_ref().map(Formula::molar_mass)
    }

    /// Water of crystallisation, mol per mol of the stated formula.
    pub fn water(&self) -> f64 {
        self.formula.as_ref().map_or(0.0, Formula::water)
    }

    /// Whether the assay must be stated before a mass of it means anything: solutions, nominal compositions,
    /// assays counted in something else than the formula.
    pub fn assay_must_be_stated(&self) -> bool {
        self.formula_is != FormulaIs::Exact || self.assay.is_some_and(|assay| assay.of.is_some())
    }

    /// What it gives to a water.
    ///
    /// # Errors
    /// [`MatterError::CompositionVaries`] where no composition can be computed.
    pub fn dissolution(&self) -> Result<&Dissolution, MatterError> {
        self.gives.as_ref().ok_or(MatterError::CompositionVaries { id: self.id, name: self.name })
    }

    /// Whether it may be weighed into a drink.
    ///
    /// # Errors
    /// [`MatterError::Refused`] for poisons, what is no food and what is no article,
    /// [`MatterError::OnlyInSolution`] for what cannot be weighed, [`MatterError::CompositionVaries`] where no
    /// composition can be computed.
    pub fn weighable(&self) -> Result<&Salt, MatterError> {
        if self.form == Form::OnlyInSolution {
            return Err(MatterError::OnlyInSolution { id: self.id, name: self.name, instead: self.refusal });
        }
        if self.food_use != FoodUse::Yes || self.form == Form::Phase {
            let formula = self.formula.as_ref().map(Formula::canonical);
            return Err(MatterError::Refused { id: self.id, name: self.name, formula, why: self.refusal });
        }
        self.dissolution()?;
        Ok(self)
    }

    /// Keys of every source that the row draws on, each once, in the order of its fields.
    pub fn sources(&self) -> Vec<&'static str> {
        let mut keys = vec![self.source, self.cas_mark.source];
        keys.extend(
            [self.ins, self.eu_e, self.us_status].iter().flatten().map(|additive| additive.mark.source),
        );
        let ranges = [self.assay.map(|assay| assay.percent), self.bulk_density, self.ph_of_1_percent];
        keys.extend(ranges.iter().flatten().map(|range| range.mark.source));
        keys.extend(self.needs.map(|need| need.mark.source));
        keys.extend(self.handling.iter().map(|handling| handling.mark.source));
        keys.extend(self.solubility_curve().into_iter().flat_map(|c| c.points.iter().map(|p| p.mark.source)));
        let mut once = Vec::new();
        for key in keys {
            if !once.contains(&key) {
                once.push(key);
            }
        }
        once
    }
}
