//! One concept, one file: at most 400 lines without tests, functions of at most 60 lines, tests at the foot,
//! folders at most two deep.

use crate::{demand_none, demand_one, tree};
use syn::spanned::Spanned;
use syn::visit::Visit;

const LONGEST_FILE: usize = 400;
const LONGEST_FUNCTION: usize = 60;
const DEEPEST_FOLDER: usize = 2;

/// Whether an item is compiled for tests only.
pub fn is_for_tests(attributes: &[syn::Attribute]) -> bool {
    attributes.iter().any(|attribute| match &attribute.meta {
        syn::Meta::Path(path) => path.segments.last().is_some_and(|last| last.ident == "test"),
        syn::Meta::List(list) => list.path.is_ident("cfg") && list.tokens.to_string() == "test",
        syn::Meta::NameValue(_) => false,
    })
}

/// A Rust file read by the language's own grammar; one that cannot be read is a fault by itself.
pub fn parse(file: &tree::File) -> syn::File {
    syn::parse_file(&file.text).unwrap_or_else(|fault| panic!("{}: {fault}", file.path))
}

/// Length without the test module at the foot, and the complaint when tests stand elsewhere.
fn file_faults(file: &tree::File) -> Vec<String> {
    let parsed = parse(file);
    let whole = file.text.lines().count();
    // A test module in a file of its own takes no lines here and may be named where modules are named.
    let is_test_module = |item: &syn::Item| match item {
        syn::Item::Mod(module) => module.content.is_some() && is_for_tests(&module.attrs),
        _ => false,
    };
    let first = parsed.items.iter().position(is_test_module);
    let length = first.map_or(whole, |at| parsed.items[at].span().start().line - 1);
    let mut faults = Vec::new();
    if length > LONGEST_FILE {
        faults.push(format!("{}: {length} lines without tests, {LONGEST_FILE} at most", file.path));
    }
    if first.is_some_and(|at| parsed.items[at..].iter().any(|item| !is_test_module(item))) {
        faults.push(format!("{}: something stands below the tests", file.path));
    }
    faults
}

/// Collects the functions of a file that are too long, tests left out.
struct Functions<'a> {
    path: &'a str,
    faults: Vec<String>,
}

impl Functions<'_> {
    fn weigh(&mut self, signature: &syn::Signature, body: &syn::Block) {
        let (from, to) = (signature.span().start().line, body.span().end().line);
        let length = to - from + 1;
        if length > LONGEST_FUNCTION {
            let name = &signature.ident;
            self.faults.push(format!("{}:{from}: fn {name} has {length} lines", self.path));
        }
    }
}

impl<'ast> Visit<'ast> for Functions<'_> {
    fn visit_item_mod(&mut self, module: &'ast syn::ItemMod) {
        if !is_for_tests(&module.attrs) {
            syn::visit::visit_item_mod(self, module);
        }
    }

    fn visit_item_fn(&mut self, function: &'ast syn::ItemFn) {
        if !is_for_tests(&function.attrs) {
            self.weigh(&function.sig, &function.block);
            syn::visit::visit_item_fn(self, function);
        }
    }

    fn visit_impl_item_fn(&mut self, function: &'ast syn::ImplItemFn) {
        self.weigh(&function.sig, &function.block);
        syn::visit::visit_impl_item_fn(self, function);
    }

    fn visit_trait_item_fn(&mut self, function: &'ast syn::TraitItemFn) {
        if let Some(body) = &function.default {
            self.weigh(&function.sig, body);
        }
        syn::visit::visit_trait_item_fn(self, function);
    }
}

fn function_faults(file: &tree::File) -> Vec<String> {
    let mut functions = Functions { path: &file.path, faults: Vec::new() };
    functions.visit_file(&parse(file));
    functions.faults
}

fn depth_fault(path: &str) -> Option<String> {
    let inside = path.split_once("/src/")?.1;
    let deep = inside.matches('/').count();
    (deep > DEEPEST_FOLDER).then(|| format!("{path}: {deep} folders deep, {DEEPEST_FOLDER} at most"))
}

#[test]
fn files_are_short_and_end_with_their_tests() {
    demand_none(tree::files(tree::is_source).iter().flat_map(file_faults).collect());
}

#[test]
fn functions_are_short() {
    demand_none(tree::files(tree::is_source).iter().flat_map(function_faults).collect());
}

#[test]
fn folders_are_shallow() {
    demand_none(
        tree::paths().iter().filter(|path| tree::is_source(path)).filter_map(|p| depth_fault(p)).collect(),
    );
}

#[test]
fn python_files_are_short() {
    let long = |file: &tree::File| file.text.lines().count() > LONGEST_FILE;
    let package = tree::files(|path| path.starts_with("python/springwright/") && path.ends_with(".py"));
    demand_none(
        package.iter().filter(|file| long(file)).map(|file| format!("{} is too long", file.path)).collect(),
    );
}

#[test]
fn planted_giants_are_found() {
    let file = |text: String| tree::File { path: "a.rs".to_owned(), text };
    let lines = |count: usize| "const A: u8 = 1;\n".repeat(count);
    let tests = "#[cfg(test)]\nmod tests {\n    fn t() {}\n}\n";
    assert_eq!(file_faults(&file(format!("{}{tests}", lines(LONGEST_FILE)))), Vec::<String>::new());
    demand_one(&file_faults(&file(format!("{}{tests}", lines(LONGEST_FILE + 1)))), "401 lines");
    demand_one(&file_faults(&file(format!("{tests}{}", lines(1)))), "below the tests");
    let body = |count: usize| format!("fn long() {{\n{}}}\n", "    run(\"}\");\n".repeat(count));
    assert_eq!(function_faults(&file(body(LONGEST_FUNCTION - 2))), Vec::<String>::new());
    demand_one(&function_faults(&file(body(LONGEST_FUNCTION - 1))), "fn long has 61 lines");
    let method = format!("impl A {{\n{}}}\n", body(LONGEST_FUNCTION));
    demand_one(&function_faults(&file(method)), "a.rs:2: fn long");
    assert_eq!(depth_fault("crates/x/src/a/b/c.rs"), None);
    assert!(depth_fault("crates/x/src/a/b/c/d.rs").is_some());
}
