//! How people write formulas: every spelling is read as the one substance it means, or refused with a code.
//! The canonical form beside each spelling was written by hand from the chemistry, not by the reader.

use springwright_chem::fault::Fault;
use springwright_chem::matter::formula::{Formula, FormulaError};

const READ: &[(&str, &str)] = &[
    ("CaCl2·2H2O", "CaCl2·2H2O"),
    ("CaCl2.2H2O", "CaCl2·2H2O"),
    ("CaCl2*2H2O", "CaCl2·2H2O"),
    ("CaCl2•2H2O", "CaCl2·2H2O"),
    ("CaCl2∙2H2O", "CaCl2·2H2O"),
    ("CaCl2⋅2H2O", "CaCl2·2H2O"),
    ("CaCl2..2H2O", "CaCl2·2H2O"),
    ("CaCl2 · 2 H2O", "CaCl2·2H2O"),
    ("CaCl2 . 2 H2O", "CaCl2·2H2O"),
    ("CaCl2 . 2H2O", "CaCl2·2H2O"),
    ("CaCl2. 2H2O", "CaCl2·2H2O"),
    ("CaCl2 .2H2O", "CaCl2·2H2O"),
    ("CaCl2 * 2H2O", "CaCl2·2H2O"),
    ("CaCl2 × 2H2O", "CaCl2·2H2O"),
    ("CaCl2×2H2O", "CaCl2·2H2O"),
    ("CaCl2 x 2H2O", "CaCl2·2H2O"),
    ("CaCl2 x 2 H2O", "CaCl2·2H2O"),
    ("CaCl2x2H2O", "CaCl2·2H2O"),
    ("CaCl2-2H2O", "CaCl2·2H2O"),
    ("CaCl2 - 2H2O", "CaCl2·2H2O"),
    ("CaCl2–2H2O", "CaCl2·2H2O"),
    ("CaCl2 2H2O", "CaCl2·2H2O"),
    ("CaCl2 2 H2O", "CaCl2·2H2O"),
    ("Ca Cl2 · 2 H2O", "CaCl2·2H2O"),
    ("CaCl2(H2O)2", "CaCl2·2H2O"),
    ("CaCl2·(H2O)2", "CaCl2·2H2O"),
    ("CaCl2 (H2O)2", "CaCl2·2H2O"),
    ("CaCl2·[H2O]2", "CaCl2·2H2O"),
    ("CaCl₂·2H₂O", "CaCl2·2H2O"),
    ("CaCl₂2H₂O", "CaCl2·2H2O"),
    ("CaCl₂ 2H₂O", "CaCl2·2H2O"),
    ("CaCl₂.2H₂O", "CaCl2·2H2O"),
    ("CaCl₂•2H₂O", "CaCl2·2H2O"),
    ("  CaCl2·2H2O  ", "CaCl2·2H2O"),
    ("CaCl2\u{a0}·\u{a0}2H2O", "CaCl2·2H2O"),
    ("CaCl2\u{2009}·\u{2009}2H2O", "CaCl2·2H2O"),
    ("CaCl2·2 H2O", "CaCl2·2H2O"),
    ("CaCl2·2(H2O)", "CaCl2·2H2O"),
    ("CaCl2·H2O·H2O", "CaCl2·2H2O"),
    ("CaCl2‧2H2O", "CaCl2·2H2O"),
    ("CaCl2・2H2O", "CaCl2·2H2O"),
    ("CaCl2·2.0H2O", "CaCl2·2H2O"),
    ("CaCl2·4/2H2O", "CaCl2·2H2O"),
    ("MgSO4·7H2O", "MgSO4·7H2O"),
    ("MgSO4.7H2O", "MgSO4·7H2O"),
    ("MgSO4*7H2O", "MgSO4·7H2O"),
    ("MgSO4•7H2O", "MgSO4·7H2O"),
    ("MgSO4 7H2O", "MgSO4·7H2O"),
    ("MgSO4 7 H2O", "MgSO4·7H2O"),
    ("MgSO4 x 7H2O", "MgSO4·7H2O"),
    ("MgSO4x7H2O", "MgSO4·7H2O"),
    ("MgSO4-7H2O", "MgSO4·7H2O"),
    ("MgSO₄·7H₂O", "MgSO4·7H2O"),
    ("MgSO₄7H₂O", "MgSO4·7H2O"),
    ("MgSO4..7H2O", "MgSO4·7H2O"),
    ("MgSO4(H2O)7", "MgSO4·7H2O"),
    ("Mg SO4 . 7 H2O", "MgSO4·7H2O"),
    ("MgSO4·H2O", "MgSO4·H2O"),
    ("MgSO4.H2O", "MgSO4·H2O"),
    ("MgSO4 H2O", "MgSO4·H2O"),
    ("MgSO4*H2O", "MgSO4·H2O"),
    ("MgSO4·1H2O", "MgSO4·H2O"),
    ("MgSO4.1H2O", "MgSO4·H2O"),
    ("MgSO4-H2O", "MgSO4·H2O"),
    ("MgSO4", "MgSO4"),
    ("Mg SO4", "MgSO4"),
    ("MgSO₄", "MgSO4"),
    ("Mg S O4", "MgSO4"),
    ("MgSO4.3H2O", "MgSO4·3H2O"),
    ("CaSO4·0.5H2O", "CaSO4·0.5H2O"),
    ("CaSO4.0.5H2O", "CaSO4·0.5H2O"),
    ("CaSO4·½H2O", "CaSO4·0.5H2O"),
    ("CaSO4.½H2O", "CaSO4·0.5H2O"),
    ("CaSO4·1/2H2O", "CaSO4·0.5H2O"),
    ("CaSO4.1/2H2O", "CaSO4·0.5H2O"),
    ("CaSO4·0,5H2O", "CaSO4·0.5H2O"),
    ("CaSO4.0,5H2O", "CaSO4·0.5H2O"),
    ("CaSO4·.5H2O", "CaSO4·0.5H2O"),
    ("CaSO4 0.5H2O", "CaSO4·0.5H2O"),
    ("CaSO4 x 0.5 H2O", "CaSO4·0.5H2O"),
    ("CaSO4*0.5H2O", "CaSO4·0.5H2O"),
    ("CaSO₄·0.5H₂O", "CaSO4·0.5H2O"),
    ("CaSO4 1/2 H2O", "CaSO4·0.5H2O"),
    ("CaSO4 ½H2O", "CaSO4·0.5H2O"),
    ("CaSO4-0.5H2O", "CaSO4·0.5H2O"),
    ("CaSO4·2H2O", "CaSO4·2H2O"),
    ("CaSO4.2H2O", "CaSO4·2H2O"),
    ("CaSO4*2H2O", "CaSO4·2H2O"),
    ("CaSO4 2H2O", "CaSO4·2H2O"),
    ("CaSO₄·2H₂O", "CaSO4·2H2O"),
    ("K2CO3·1.5H2O", "K2CO3·1.5H2O"),
    ("K2CO3.1.5H2O", "K2CO3·1.5H2O"),
    ("K2CO3·1½H2O", "K2CO3·1.5H2O"),
    ("K2CO3·3/2H2O", "K2CO3·1.5H2O"),
    ("K2CO3·1,5H2O", "K2CO3·1.5H2O"),
    ("K2CO3 1.5H2O", "K2CO3·1.5H2O"),
    ("K2CO3..1.5H2O", "K2CO3·1.5H2O"),
    ("Na2CO3·10H2O", "Na2CO3·10H2O"),
    ("Na2CO3.10H2O", "Na2CO3·10H2O"),
    ("Na2CO3*10H2O", "Na2CO3·10H2O"),
    ("Na2CO3 10H2O", "Na2CO3·10H2O"),
    ("Na2CO3-10H2O", "Na2CO3·10H2O"),
    ("Na₂CO₃·10H₂O", "Na2CO3·10H2O"),
    ("Na2CO3.H2O", "Na2CO3·H2O"),
    ("Na2CO3 H2O", "Na2CO3·H2O"),
    ("Na2SO4.10H2O", "Na2SO4·10H2O"),
    ("Na2SO4 x 10 H2O", "Na2SO4·10H2O"),
    ("MgCl2·6H2O", "MgCl2·6H2O"),
    ("MgCl2.6H2O", "MgCl2·6H2O"),
    ("MgCl2*6H2O", "MgCl2·6H2O"),
    ("[Mg(H2O)6]Cl2", "MgCl2·6H2O"),
    ("Mg(H2O)6Cl2", "MgCl2·6H2O"),
    ("MgCl2 6H2O", "MgCl2·6H2O"),
    ("MgCl2(H2O)6", "MgCl2·6H2O"),
    ("CuSO4.5H2O", "CuSO4·5H2O"),
    ("CuSO4·5H2O", "CuSO4·5H2O"),
    ("CuSO4 5H2O", "CuSO4·5H2O"),
    ("CuSO4..5H2O", "CuSO4·5H2O"),
    ("FeSO4.7H2O", "FeSO4·7H2O"),
    ("FeSO4*7H2O", "FeSO4·7H2O"),
    ("Ca(HCO3)2", "Ca(HCO3)2"),
    ("Ca (HCO3)2", "Ca(HCO3)2"),
    ("Ca[HCO3]2", "Ca(HCO3)2"),
    ("Ca{HCO3}2", "Ca(HCO3)2"),
    ("Ca(HCO₃)₂", "Ca(HCO3)2"),
    ("Ca(H2PO4)2·H2O", "Ca(H2PO4)2·H2O"),
    ("Ca(H2PO4)2.H2O", "Ca(H2PO4)2·H2O"),
    ("Ca(H2PO4)2 H2O", "Ca(H2PO4)2·H2O"),
    ("Ca(H2PO4)2*H2O", "Ca(H2PO4)2·H2O"),
    ("CaHPO4.2H2O", "CaHPO4·2H2O"),
    ("CaHPO4 2H2O", "CaHPO4·2H2O"),
    ("Ca(OH)2", "Ca(OH)2"),
    ("Ca(OH)₂", "Ca(OH)2"),
    ("Ca5(PO4)3OH", "Ca5(PO4)3OH"),
    ("Ca5(PO4)3(OH)", "Ca5(PO4)3(OH)"),
    ("KAl(SO4)2·12H2O", "KAl(SO4)2·12H2O"),
    ("KAl(SO4)2.12H2O", "KAl(SO4)2·12H2O"),
    ("KAl(SO4)2 12H2O", "KAl(SO4)2·12H2O"),
    ("KAl(SO4)2 x 12H2O", "KAl(SO4)2·12H2O"),
    ("Al2(SO4)3.18H2O", "Al2(SO4)3·18H2O"),
    ("Al2(SO4)3·18H2O", "Al2(SO4)3·18H2O"),
    ("Mg5(CO3)4(OH)2·5H2O", "Mg5(CO3)4(OH)2·5H2O"),
    ("Mg5(CO3)4(OH)2.5H2O", "Mg5(CO3)4(OH)2·5H2O"),
    ("3MgCO3·Mg(OH)2·3H2O", "3MgCO3·Mg(OH)2·3H2O"),
    ("3MgCO3.Mg(OH)2.3H2O", "3MgCO3·Mg(OH)2·3H2O"),
    ("3 MgCO3 · Mg(OH)2 · 3 H2O", "3MgCO3·Mg(OH)2·3H2O"),
    ("Na2CO3·NaHCO3·2H2O", "Na2CO3·NaHCO3·2H2O"),
    ("Na2CO3.NaHCO3.2H2O", "Na2CO3·NaHCO3·2H2O"),
    ("KCl.MgCl2.6H2O", "KCl·MgCl2·6H2O"),
    ("KCl*MgCl2*6H2O", "KCl·MgCl2·6H2O"),
    ("CaO.2CO2", "CaO·2CO2"),
    ("CaO·2CO2", "CaO·2CO2"),
    ("NaHCO3", "NaHCO3"),
    ("NaHCO₃", "NaHCO3"),
    ("Na HCO3", "NaHCO3"),
    ("KHCO3", "KHCO3"),
    ("NaCl", "NaCl"),
    ("Na Cl", "NaCl"),
    ("KCl", "KCl"),
    ("CaCO3", "CaCO3"),
    ("CaCO₃", "CaCO3"),
    ("SiO2", "SiO2"),
    ("SiO₂", "SiO2"),
    ("NH4Cl", "NH4Cl"),
    ("NH₄Cl", "NH4Cl"),
    ("(NH4)2SO4", "(NH4)2SO4"),
    ("[NH4]2SO4", "(NH4)2SO4"),
    ("H3BO3", "H3BO3"),
    ("B(OH)3", "B(OH)3"),
    ("H3PO4", "H3PO4"),
    ("H2O", "H2O"),
    ("H₂O", "H2O"),
    ("CO2", "CO2"),
    ("CO₂", "CO2"),
    ("N2O", "N2O"),
    ("HCl", "HCl"),
    ("H2SO4", "H2SO4"),
    ("Co", "Co"),
    ("CO", "CO"),
    ("CoCl2.6H2O", "CoCl2·6H2O"),
    ("CoCl2·6H2O", "CoCl2·6H2O"),
    ("Na3C6H5O7·2H2O", "Na3C6H5O7·2H2O"),
    ("Na3C6H5O7.2H2O", "Na3C6H5O7·2H2O"),
    ("Na3C6H5O7 2H2O", "Na3C6H5O7·2H2O"),
    ("C6H8O7.H2O", "C6H8O7·H2O"),
    ("C6H8O7·H2O", "C6H8O7·H2O"),
    ("C6H8O7 H2O", "C6H8O7·H2O"),
    ("C12H22O11", "C12H22O11"),
    ("C10H16N2O8", "C10H16N2O8"),
    ("C6H12O6", "C6H12O6"),
    ("Ca(C3H5O3)2·5H2O", "Ca(C3H5O3)2·5H2O"),
    ("Ca(C3H5O3)2.5H2O", "Ca(C3H5O3)2·5H2O"),
    ("Ca(C3H5O3)2 5H2O", "Ca(C3H5O3)2·5H2O"),
    ("Ca(C6H11O7)2.H2O", "Ca(C6H11O7)2·H2O"),
    ("CH3COONa.3H2O", "CH3COONa·3H2O"),
    ("CH3COONa·3H2O", "CH3COONa·3H2O"),
    ("(CH3COO)2Ca.H2O", "(CH3COO)2Ca·H2O"),
    ("Mg(C2H4NO2)2", "Mg(C2H4NO2)2"),
    ("Na2B4O7.10H2O", "Na2B4O7·10H2O"),
    ("KNaC4H4O6·4H2O", "KNaC4H4O6·4H2O"),
    ("KNaC4H4O6.4H2O", "KNaC4H4O6·4H2O"),
    ("(NH4)6Mo7O24.4H2O", "(NH4)6Mo7O24·4H2O"),
    ("K4[Fe(CN)6]·3H2O", "K4(Fe(CN)6)·3H2O"),
    ("K4[Fe(CN)6].3H2O", "K4(Fe(CN)6)·3H2O"),
    ("SO4-2", "SO4^2-"),
    ("SO4^2-", "SO4^2-"),
    ("SO4^-2", "SO4^2-"),
    ("SO4 2-", "SO4^2-"),
    ("SO42-", "SO4^2-"),
    ("SO4--", "SO4^2-"),
    ("SO₄²⁻", "SO4^2-"),
    ("SO4²⁻", "SO4^2-"),
    ("SO4(2-)", "SO4^2-"),
    ("SO₄2-", "SO4^2-"),
    ("SO4−2", "SO4^2-"),
    ("SO4^(2-)", "SO4^2-"),
    ("SO4^{2-}", "SO4^2-"),
    ("Ca++", "Ca^2+"),
    ("Ca2+", "Ca^2+"),
    ("Ca+2", "Ca^2+"),
    ("Ca²⁺", "Ca^2+"),
    ("Ca 2+", "Ca^2+"),
    ("Ca(2+)", "Ca^2+"),
    ("Ca^2+", "Ca^2+"),
    ("Ca^+2", "Ca^2+"),
    ("Ca⁺⁺", "Ca^2+"),
    ("HCO3-", "HCO3^-"),
    ("HCO3⁻", "HCO3^-"),
    ("HCO₃⁻", "HCO3^-"),
    ("HCO3^-", "HCO3^-"),
    ("HCO3 -", "HCO3^-"),
    ("HCO3–", "HCO3^-"),
    ("HCO3-1", "HCO3^-"),
    ("HCO3−", "HCO3^-"),
    ("CO3--", "CO3^2-"),
    ("CO32-", "CO3^2-"),
    ("CO3-2", "CO3^2-"),
    ("CO₃²⁻", "CO3^2-"),
    ("CO3 2-", "CO3^2-"),
    ("Na+", "Na^+"),
    ("Na⁺", "Na^+"),
    ("Na^+", "Na^+"),
    ("Na +", "Na^+"),
    ("Na+1", "Na^+"),
    ("K+", "K^+"),
    ("NH4+", "NH4^+"),
    ("NH₄⁺", "NH4^+"),
    ("PO43-", "PO4^3-"),
    ("PO4---", "PO4^3-"),
    ("PO4-3", "PO4^3-"),
    ("PO₄³⁻", "PO4^3-"),
    ("HPO42-", "HPO4^2-"),
    ("HPO4--", "HPO4^2-"),
    ("HPO₄²⁻", "HPO4^2-"),
    ("H2PO4-", "H2PO4^-"),
    ("H₂PO₄⁻", "H2PO4^-"),
    ("Mg2+", "Mg^2+"),
    ("Mg++", "Mg^2+"),
    ("Fe3+", "Fe^3+"),
    ("Fe+++", "Fe^3+"),
    ("Fe³⁺", "Fe^3+"),
    ("Fe2+", "Fe^2+"),
    ("Al3+", "Al^3+"),
    ("Al+++", "Al^3+"),
    ("NO3-", "NO3^-"),
    ("NO₃⁻", "NO3^-"),
    ("NO2-", "NO2^-"),
    ("Cl-", "Cl^-"),
    ("Cl⁻", "Cl^-"),
    ("F-", "F^-"),
    ("CH3COO-", "CH3COO^-"),
    ("C6H5O73-", "C6H5O7^3-"),
    ("C6H5O7---", "C6H5O7^3-"),
    ("C6H5O7^3-", "C6H5O7^3-"),
    ("[SO4]2-", "(SO4)^2-"),
    ("(SO4)2-", "(SO4)^2-"),
    ("HSO4-", "HSO4^-"),
    ("OH-", "OH^-"),
    ("H+", "H^+"),
    ("H3O+", "H3O^+"),
    ("Mn2+", "Mn^2+"),
    ("S2O32-", "S2O3^2-"),
    ("S₂O₃²⁻", "S2O3^2-"),
    ("S2-", "S^2-"),
];

const REFUSED: &[(&str, &str)] = &[
    ("CaSO4.5H2O", "formula_ambiguous"),
    ("CaSO4..5H2O", "formula_ambiguous"),
    ("CaSO4 .5H2O", "formula_ambiguous"),
    ("CaSO4.67H2O", "formula_ambiguous"),
    ("H3PO4.5H2O", "formula_ambiguous"),
    ("MgSO4.25H2O", "formula_ambiguous"),
    ("CuSO4.75H2O", "formula_ambiguous"),
    ("CaCl22H2O", "formula_ambiguous"),
    ("CaCl2H2O", "formula_ambiguous"),
    ("MgSO47H2O", "formula_ambiguous"),
    ("MgSO4H2O", "formula_ambiguous"),
    ("Na2CO310H2O", "formula_ambiguous"),
    ("Mg(OH)2H2O", "formula_ambiguous"),
    ("CaCl 2H2O", "formula_ambiguous"),
    ("NaCl 2H2O", "formula_ambiguous"),
    ("Ca(OH) 2H2O", "formula_ambiguous"),
    ("CaCI2", "formula_ambiguous"),
    ("NaCI", "formula_ambiguous"),
    ("KCI", "formula_ambiguous"),
    ("MgCI2.6H2O", "formula_ambiguous"),
    ("CaC12", "formula_ambiguous"),
    ("MgC12·6H2O", "formula_ambiguous"),
    ("Al203", "formula_ambiguous"),
    ("Fe203", "formula_ambiguous"),
    ("K20", "formula_ambiguous"),
    ("Na20", "formula_ambiguous"),
    ("P205", "formula_ambiguous"),
    ("SIO2", "formula_ambiguous"),
    ("CUSO4", "formula_ambiguous"),
    ("CUSO4.5H2O", "formula_ambiguous"),
    ("NISO4", "formula_ambiguous"),
    ("PBSO4", "formula_ambiguous"),
    ("COSO4", "formula_ambiguous"),
    ("O2-", "formula_ambiguous"),
    ("VO3-", "formula_ambiguous"),
    ("CaCl2+", "formula_ambiguous"),
    ("", "formula_malformed"),
    ("  ", "formula_malformed"),
    (".", "formula_malformed"),
    ("CaCl2.", "formula_malformed"),
    ("CaCl2·", "formula_malformed"),
    (".CaCl2", "formula_malformed"),
    ("CaCl2...2H2O", "formula_malformed"),
    ("CaCl2.2H20", "formula_malformed"),
    ("MgSO4·7H20", "formula_malformed"),
    ("NaHC03", "formula_malformed"),
    ("MgS04", "formula_malformed"),
    ("C02", "formula_malformed"),
    ("Ca(OH2", "formula_malformed"),
    ("Ca)2", "formula_malformed"),
    ("Ca()2", "formula_malformed"),
    ("()", "formula_malformed"),
    ("Ca0", "formula_malformed"),
    ("NaC1", "formula_malformed"),
    ("KC1", "formula_malformed"),
    ("CaCl2.02H2O", "formula_malformed"),
    ("CaCl2·0H2O", "formula_malformed"),
    ("CaCl2.2/0H2O", "formula_malformed"),
    ("Ca Cl 2", "formula_malformed"),
    ("Na 2 CO3", "formula_malformed"),
    ("Fe(II)SO4", "formula_malformed"),
    ("Fe(III)", "formula_malformed"),
    ("CaCl2,2H2O", "formula_malformed"),
    ("CaCl2;2H2O", "formula_malformed"),
    ("Ca/Mg", "formula_malformed"),
    ("CaCl2=2H2O", "formula_malformed"),
    ("MgSO4·7", "formula_malformed"),
    ("MgSO4.7.H2O", "formula_malformed"),
    ("Ca+Cl", "formula_malformed"),
    ("+", "formula_malformed"),
    ("-", "formula_malformed"),
    ("SO4-99", "formula_malformed"),
    ("SO4^x", "formula_malformed"),
    ("^2-", "formula_malformed"),
    ("2", "formula_malformed"),
    ("2.5", "formula_malformed"),
    ("CaCl2…2H2O", "formula_malformed"),
    ("Ca_Cl2", "formula_malformed"),
    ("CO3=", "formula_malformed"),
    ("SO4+-", "formula_malformed"),
    ("SO4^2", "formula_malformed"),
    ("(((((((((Na)))))))))", "formula_malformed"),
    ("co", "element_unknown"),
    ("nacl", "element_unknown"),
    ("NACL", "element_unknown"),
    ("caCl2", "element_unknown"),
    ("mgso4", "element_unknown"),
    ("MGSO4", "element_unknown"),
    ("magnesium sulfate", "element_unknown"),
    ("salt", "element_unknown"),
    ("Xx", "element_unknown"),
    ("Me2O", "element_unknown"),
    ("CaCx", "element_unknown"),
    ("NaHCo3x", "element_unknown"),
    ("D2O", "element_unknown"),
    ("Tc", "element_unknown"),
    ("Ac", "element_unknown"),
    ("ppm", "element_unknown"),
    ("Ca(s)", "element_unknown"),
    ("MgSO4·7h2o", "element_unknown"),
    ("Cacl2", "element_unknown"),
    ("h2o", "element_unknown"),
    ("MgCO3·nH2O", "formula_water_unstated"),
    ("MgCO3.nH2O", "formula_water_unstated"),
    ("MgCO3·xH2O", "formula_water_unstated"),
    ("MgSO4.xH2O", "formula_water_unstated"),
    ("MgSO4·XH2O", "formula_water_unstated"),
    ("2NaCl", "formula_leading_number"),
    ("2CaSO4·H2O", "formula_leading_number"),
    ("2 NaCl", "formula_leading_number"),
    ("0.5CaSO4", "formula_leading_number"),
    ("2H2O", "formula_leading_number"),
    ("3CaCl2.6H2O", "formula_leading_number"),
    ("MgSO4·41H2O", "formula_out_of_range"),
    ("MgSO4·1000H2O", "formula_out_of_range"),
    ("C1000H2", "formula_out_of_range"),
    ("Na99999999999Cl", "formula_out_of_range"),
    ("MgSO4·0.0001H2O", "formula_out_of_range"),
];

/// Molar masses worked out by the general-purpose library molmass 2026.1.8 (its own weights, full figures).
const MASSES: &[(&str, f64)] = &[
    ("NaHCO3", 84.0067),
    ("Na2CO3", 105.9885),
    ("Na2CO3·10H2O", 286.1414),
    ("NaCl", 58.4427),
    ("CaCl2", 110.9838),
    ("CaCl2·2H2O", 147.0144),
    ("CaCl2·6H2O", 219.0755),
    ("MgSO4", 120.3675),
    ("MgSO4·7H2O", 246.4745),
    ("MgCl2·6H2O", 203.3026),
    ("CaSO4·2H2O", 172.1710),
    ("CaSO4·0.5H2O", 145.1481),
    ("KHCO3", 100.1152),
    ("K2CO3", 138.2056),
    ("KCl", 74.5512),
    ("K2SO4", 174.2590),
    ("CaCO3", 100.0870),
    ("Ca(OH)2", 74.0927),
    ("Mg5(CO3)4(OH)2·5H2O", 485.6524),
    ("KAl(SO4)2·12H2O", 474.3881),
    ("Na3C6H5O7·2H2O", 294.0999),
    ("Ca(C3H5O3)2·5H2O", 308.2947),
    ("Ca(C6H11O7)2·H2O", 448.3885),
    ("Ca(H2PO4)2·H2O", 252.0678),
    ("FeSO4·7H2O", 278.0144),
    ("ZnSO4·7H2O", 287.5494),
    ("CuSO4·5H2O", 249.6849),
    ("SrCl2·6H2O", 266.6175),
    ("BaCl2·2H2O", 244.2634),
    ("Li2CO3", 73.8890),
    ("H3BO3", 61.8330),
    ("H3PO4", 97.9952),
    ("C6H8O7", 192.1238),
    ("NH4Cl", 53.4914),
    ("SiO2", 60.0843),
    ("KI", 166.0028),
    ("NaBr", 102.8933),
    ("NaF", 41.9882),
];

#[test]
fn every_spelling_is_read_as_what_it_means() {
    assert!(READ.len() >= 200, "{} spellings", READ.len());
    let mut wrong = Vec::new();
    for (text, canonical) in READ {
        match Formula::read(text) {
            Ok(formula) if formula.canonical() == *canonical => {}
            Ok(formula) => wrong.push(format!("{text}: read as {}, means {canonical}", formula.canonical())),
            Err(error) => wrong.push(format!("{text}: {error}")),
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// IUPAC abridged weights 2021: 40.078 + 2 × 35.45 + 2 × (2 × 1.008 + 15.999) = 147.008.
#[test]
fn every_spelling_of_the_dihydrate_weighs_147_01() {
    let mut count = 0;
    for (text, _) in READ.iter().filter(|(_, canonical)| *canonical == "CaCl2·2H2O") {
        let formula = Formula::read(text).unwrap();
        assert!((formula.molar_mass() - 147.008).abs() < 1e-9, "{text}");
        assert_eq!(formula.water(), 2.0, "{text}");
        count += 1;
    }
    assert!(count >= 40);
}

#[test]
fn every_refused_spelling_has_its_code_and_says_how_to_mend_it() {
    let mut wrong = Vec::new();
    for (text, code) in REFUSED {
        match Formula::read(text) {
            Ok(formula) => wrong.push(format!("{text}: read as {}, should be {code}", formula.canonical())),
            Err(error) if error.code() != *code => wrong.push(format!("{text}: {} not {code}", error.code())),
            Err(error) => assert!(!error.to_string().is_empty() && !error.mend().is_empty()),
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What an error offers is read, and read as that.
#[test]
fn offered_spellings_are_read_as_they_stand() {
    for (text, _) in REFUSED {
        let Err(error) = Formula::read(text) else { continue };
        if matches!(error, FormulaError::OutOfRange { .. }) {
            continue;
        }
        for offered in error.accepted() {
            assert!(Formula::read(&offered).is_ok(), "{text} offers {offered}");
        }
    }
    let offered = |text| Formula::read(text).unwrap_err().accepted();
    assert_eq!(offered("CaSO4.5H2O"), ["CaSO4·5H2O", "CaSO4·0.5H2O"]);
    assert_eq!(offered("co"), ["Co", "CO"]);
    assert_eq!(offered("nacl"), ["NaCl"]);
    assert!(offered("MgSO47H2O").contains(&"MgSO4·7H2O".to_owned()));
    assert!(offered("CaCI2").contains(&"CaCl2".to_owned()));
    assert!(offered("Al203").contains(&"Al2O3".to_owned()));
    assert_eq!(offered("2CaSO4·H2O"), ["CaSO4·0.5H2O"]);
}

/// Identity: the canonical form is read as itself.
#[test]
fn the_canonical_form_reads_back() {
    for (text, _) in READ {
        let formula = Formula::read(text).unwrap();
        let again = Formula::read(&formula.canonical()).unwrap();
        assert_eq!(again.canonical(), formula.canonical());
        assert_eq!(again.atoms(), formula.atoms(), "{text}");
        assert_eq!((again.charge(), again.water()), (formula.charge(), formula.water()), "{text}");
    }
}

/// Tolerance 2e-4 relative: the library uses full weights, the table abridged ones.
#[test]
fn molar_masses_agree_with_another_library() {
    for (text, mass) in MASSES {
        let own = Formula::read(text).unwrap().molar_mass();
        assert!((own / mass - 1.0).abs() < 2e-4, "{text}: {own} against {mass}");
    }
}

#[test]
fn water_comes_off_and_goes_on() {
    let salt = Formula::read("MgSO4·7H2O").unwrap();
    assert_eq!(salt.anhydrous().canonical(), "MgSO4");
    assert_eq!(salt.anhydrous().with_water(7.0), salt);
    assert!((salt.molar_mass() - salt.anhydrous().molar_mass() - 7.0 * 18.015).abs() < 1e-9);
    assert!(Formula::read("Ca(HCO3)2").unwrap().same_substance(&Formula::read("CaH2(CO3)2").unwrap()));
    assert!(!salt.same_substance(&salt.anhydrous()));
}

/// Found by random text: water that stands in front, or beside a bracket of water, is water all the same, and the
/// canonical spelling reads as itself.
#[test]
fn water_in_front_is_water() {
    for (text, canonical) in [("H2O[H2O]·Cl", "Cl·2H2O"), ("H2O·NaCl", "NaCl·H2O")] {
        let read = Formula::read(text).unwrap().canonical();
        assert_eq!(Formula::read(canonical).unwrap().canonical(), canonical);
        assert_eq!(read, canonical, "{text}");
    }
}
