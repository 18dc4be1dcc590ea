//! What the chemistry must never call, so that it computes the same bits everywhere and nothing but computes; and
//! what no program text of the house may hold.

use crate::sizes::{is_for_tests, parse};
use crate::{demand_none, demand_one, tree};
use proc_macro2::{TokenStream, TokenTree};
use std::collections::BTreeSet;

/// Methods of f64 whose last bits differ between machines or builds; the `libm` crate has the same everywhere.
const DRIFTING: [&str; 29] = [
    "exp", "exp2", "exp_m1", "ln", "ln_1p", "log", "log2", "log10", "powf", "powi", "mul_add", "sin", "cos",
    "tan", "sin_cos", "asin", "acos", "atan", "atan2", "sinh", "cosh", "tanh", "asinh", "acosh", "atanh",
    "cbrt", "hypot", "gamma", "ln_gamma",
];

/// Parts of the standard library that reach out of the computation.
const OUTWARD: [&str; 7] =
    ["std::fs", "std::env", "std::time", "std::thread", "std::net", "std::process", "std::io"];

/// Types whose order or value differs from run to run.
const UNSTEADY: [&str; 5] = ["HashMap", "HashSet", "Instant", "SystemTime", "RandomState"];

/// Macros that speak.
const SPEAKING: [&str; 5] = ["println", "eprintln", "print", "eprint", "dbg"];

/// A word of a program text with its line; signs are words of one character, `::` of two.
type Word = (String, usize);

/// The words of a program text in order, brackets opened up; comments are gone and a text in quotes is one word.
fn words(tokens: TokenStream, into: &mut Vec<Word>) {
    for token in tokens {
        match token {
            TokenTree::Group(group) => {
                into.push(("(".to_owned(), group.span_open().start().line));
                words(group.stream(), into);
                into.push((")".to_owned(), group.span_close().end().line));
            }
            other => {
                let line = other.span().start().line;
                match into.last_mut() {
                    Some((last, _)) if last == ":" && other.to_string() == ":" => *last = "::".to_owned(),
                    _ => into.push((other.to_string(), line)),
                }
            }
        }
    }
}

/// The paths that `use` items bring in, braces multiplied out.
fn used(tree: &syn::UseTree, before: &str, into: &mut Vec<String>) {
    let join =
        |name: &syn::Ident| if before.is_empty() { name.to_string() } else { format!("{before}::{name}") };
    match tree {
        syn::UseTree::Path(path) => used(&path.tree, &join(&path.ident), into),
        syn::UseTree::Name(name) => into.push(join(&name.ident)),
        syn::UseTree::Rename(name) => into.push(join(&name.ident)),
        syn::UseTree::Glob(_) => into.push(format!("{before}::*")),
        syn::UseTree::Group(group) => group.items.iter().for_each(|item| used(item, before, into)),
    }
}

fn reaches_out(path: &str) -> bool {
    let path = path.replacen("core::", "std::", 1);
    OUTWARD.iter().any(|outward| path == *outward || path.starts_with(&format!("{outward}::")))
}

/// Faults of one file of the chemistry, its tests left out.
fn chem_faults(file: &tree::File) -> Vec<String> {
    let mut found = BTreeSet::new();
    for item in parse(file).items.into_iter().filter(|item| !tests_only(item)) {
        if let syn::Item::Use(item) = &item {
            let mut paths = Vec::new();
            used(&item.tree, "", &mut paths);
            found.extend(paths.into_iter().filter(|path| reaches_out(path)).map(|path| (0, path)));
        }
        let mut said = Vec::new();
        words(tokens_of(&item, &file.text), &mut said);
        let at = |index: usize| said.get(index).map_or("", |(word, _)| word.as_str());
        for (index, (word, line)) in said.iter().enumerate() {
            let (before, after) = (if index == 0 { "" } else { at(index - 1) }, at(index + 1));
            let of_a_float = before == "::" && index > 1 && matches!(at(index - 2), "f64" | "f32");
            let called = before == "." && (after == "(" || after == "::");
            if DRIFTING.contains(&word.as_str()) && (called || of_a_float) {
                found.insert((*line, format!(".{word}()")));
            }
            if UNSTEADY.contains(&word.as_str()) || (SPEAKING.contains(&word.as_str()) && after == "!") {
                found.insert((*line, word.clone()));
            }
            if matches!(word.as_str(), "std" | "core") && after == "::" {
                let path = format!("{word}::{}", at(index + 2));
                if reaches_out(&path) {
                    found.insert((*line, path));
                }
            }
        }
    }
    found.iter().map(|(line, what)| format!("{}:{line}: {what}", file.path)).collect()
}

fn tests_only(item: &syn::Item) -> bool {
    match item {
        syn::Item::Mod(module) => is_for_tests(&module.attrs),
        syn::Item::Fn(function) => is_for_tests(&function.attrs),
        syn::Item::Use(item) => is_for_tests(&item.attrs),
        _ => false,
    }
}

/// The tokens of an item, cut out of the file so that their lines stay true.
fn tokens_of(item: &syn::Item, text: &str) -> TokenStream {
    use syn::spanned::Spanned;
    let (from, to) = (item.span().start().line, item.span().end().line);
    let kept =
        text.lines().enumerate().map(|(at, line)| if (from..=to).contains(&(at + 1)) { line } else { "" });
    kept.collect::<Vec<_>>().join("\n").parse().expect("an item that was parsed can be read as tokens")
}

/// `serde(untagged)` in the contract: generated clients do not compile with it, and its faults name no field.
fn untagged(file: &tree::File) -> Vec<String> {
    let mut said = Vec::new();
    words(file.text.parse().expect("a file that compiles can be read as tokens"), &mut said);
    let faulty = said.iter().filter(|(word, _)| word == "untagged");
    faulty.map(|(_, line)| format!("{}:{line}: untagged", file.path)).collect()
}

/// Tests that are switched off, and examples that do not run. The only reason to ignore a test is a database that
/// may not be there.
fn switched_off(file: &tree::File) -> Vec<String> {
    let (attribute, fence) = (["#[", "ignore"].concat(), ["```", "ignore"].concat());
    let reason = format!("{attribute} = \"needs SPRINGWRIGHT_TEST_POSTGRES\"]");
    let faulty = |line: &str| (line.contains(&attribute) && !line.contains(&reason)) || line.contains(&fence);
    let numbered = (1..).zip(file.text.lines()).filter(|(_, line)| faulty(line));
    numbered.map(|(number, line)| format!("{}:{number}: {}", file.path, line.trim())).collect()
}

#[test]
fn the_chemistry_only_computes() {
    let files = tree::files(|path| path.starts_with("crates/chem/src/") && tree::is_source(path));
    assert!(files.len() > 5, "only {} files of the chemistry were read", files.len());
    demand_none(files.iter().flat_map(chem_faults).collect());
}

#[test]
fn the_contract_has_no_untagged_union() {
    let files = tree::files(|path| path.starts_with("crates/contract/src/") && path.ends_with(".rs"));
    demand_none(files.iter().flat_map(untagged).collect());
}

#[test]
fn no_test_is_switched_off() {
    demand_none(tree::files(|path| path.ends_with(".rs")).iter().flat_map(switched_off).collect());
}

#[test]
fn planted_calls_are_found() {
    let of = |text: &str| chem_faults(&tree::File { path: "a.rs".to_owned(), text: text.to_owned() });
    let clean =
        "/// uses x.exp() in words\nfn f(x: f64) -> f64 { libm::exp(x).sqrt() + \".ln()\".len() as f64 }\n";
    assert_eq!(of(clean), Vec::<String>::new());
    assert_eq!(of("#[cfg(test)]\nmod tests { fn f(x: f64) -> f64 { x.exp() } }"), Vec::<String>::new());
    assert_eq!(of("fn exp(x: f64) -> f64 { libm::exp(x) }"), Vec::<String>::new());
    demand_one(&of("fn f(x: f64) -> f64 {\n    x.exp()\n}"), "a.rs:2: .exp()");
    demand_one(&of("fn f(x: f64) -> f64 { f64::powi(x, 2) }"), "powi");
    demand_one(&of("fn f(x: &[f64]) -> Vec<f64> { x.iter().copied().map(f64::ln).collect() }"), ".ln()");
    demand_one(&of("fn f(x: f64) { assert!(x.mul_add(2.0, 1.0) > 0.0); }"), "mul_add");
    demand_one(&of("use std::{cmp::Ordering, fs::File};"), "std::fs");
    demand_one(&of("fn f() { let _ = std::env::args(); }"), "std::env");
    demand_one(&of("use std::collections::HashMap;"), "HashMap");
    demand_one(&of("fn f() { println!(\"x\"); }"), "println");
    let shape = "#[derive(Deserialize)]\n#[serde(untagged)]\nenum A { B(u8) }\n".to_owned();
    demand_one(&untagged(&tree::File { path: "b.rs".to_owned(), text: shape }), "b.rs:2");
    let off = format!("{}]\nfn t() {{}}\n", ["#[", "ignore"].concat());
    demand_one(&switched_off(&tree::File { path: "c.rs".to_owned(), text: off }), "c.rs:1");
}
