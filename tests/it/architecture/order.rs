//! Order within a room: no cycle among sibling files, no type of another room passed on, no tuple for arguments.

use super::paths::named;
use petgraph::algo::tarjan_scc;
use petgraph::graphmap::DiGraphMap;
use std::collections::{BTreeMap, BTreeSet};
use syn::visit::{self, Visit};

/// A source file: its module (`["lower", "run"]`) and its code.
pub struct Source {
    pub module: Vec<String>,
    pub code: String,
}

/// Cycles among the children of one module, each as the module and the sorted names of the children in it.
///
/// A child is a file or a folder. `mod.rs` belongs to no child: it declares them all. A child depends on a sibling
/// where any of its files names a path through it.
pub fn cycles(sources: &[Source]) -> Vec<String> {
    let modules: BTreeSet<&[String]> = sources.iter().map(|one| one.module.as_slice()).collect();
    let mut edges: BTreeMap<&[String], BTreeSet<(&str, &str)>> = BTreeMap::new();
    let known = |path: &[String]| modules.get(path).copied();
    for source in sources {
        let module: Vec<&str> = source.module.iter().map(String::as_str).collect();
        let Ok(names) = named(&source.code, &module) else {
            continue;
        };
        for path in &names.inside {
            let shared = path.iter().zip(&source.module);
            let depth = shared.take_while(|(a, b)| a == b).count();
            // The target must be a module; a type or function beside it lives in `mod.rs`.
            let sibling = path.get(..=depth).and_then(known);
            let (Some(from), Some(sibling)) = (source.module.get(depth), sibling) else {
                continue;
            };
            let (Some(to), Some(parent)) = (sibling.last(), sibling.get(..depth)) else {
                continue;
            };
            edges.entry(parent).or_default().insert((from, to));
        }
    }
    let mut found = Vec::new();
    for (parent, edges) in &edges {
        let graph: DiGraphMap<&str, ()> = edges.iter().copied().collect();
        for mut cycle in tarjan_scc(&graph) {
            if cycle.len() > 1 {
                cycle.sort_unstable();
                let place = match parent {
                    [] => "src".to_string(),
                    parent => parent.join("::"),
                };
                found.push(format!("{place}: {}", cycle.join(", ")));
            }
        }
    }
    found
}

/// Names of another room that this file passes on by `pub use`, in any degree of `pub`.
pub fn passed_on(source: &Source) -> Vec<String> {
    let Ok(file) = syn::parse_file(&source.code) else {
        return vec!["does not parse".to_string()];
    };
    let module: Vec<&str> = source.module.iter().map(String::as_str).collect();
    let room = source.module.first();
    let mut found = Vec::new();
    for item in &file.items {
        let syn::Item::Use(used) = item else { continue };
        if matches!(used.vis, syn::Visibility::Inherited) {
            continue;
        }
        let mut alone = used.clone();
        alone.vis = syn::Visibility::Inherited;
        let code = quote_use(&alone);
        let Ok(names) = named(&code, &module) else {
            continue;
        };
        let other = |path: &&Vec<String>| path.len() > 1 && path.first() != room;
        found.extend(
            names
                .inside
                .iter()
                .filter(other)
                .map(|path| path.join("::")),
        );
    }
    found
}

fn quote_use(used: &syn::ItemUse) -> String {
    fn tree(tree: &syn::UseTree) -> String {
        match tree {
            syn::UseTree::Path(path) => format!("{}::{}", path.ident, tree_of(&path.tree)),
            syn::UseTree::Name(name) => name.ident.to_string(),
            syn::UseTree::Rename(name) => format!("{} as {}", name.ident, name.rename),
            syn::UseTree::Glob(_) => "*".to_string(),
            syn::UseTree::Group(group) => {
                let items: Vec<String> = group.items.iter().map(tree_of).collect();
                format!("{{{}}}", items.join(", "))
            }
        }
    }
    fn tree_of(one: &syn::UseTree) -> String {
        tree(one)
    }
    format!("use {};", tree(&used.tree))
}

/// Functions that take several arguments in one parameter, as a tuple that is taken apart at once.
pub fn tuples(code: &str) -> Vec<String> {
    let Ok(file) = syn::parse_file(code) else {
        return vec!["does not parse".to_string()];
    };
    let mut walk = Tuples(Vec::new());
    walk.visit_file(&file);
    walk.0
}

struct Tuples(Vec<String>);

impl<'ast> Visit<'ast> for Tuples {
    fn visit_signature(&mut self, signature: &'ast syn::Signature) {
        for input in &signature.inputs {
            if let syn::FnArg::Typed(typed) = input
                && matches!(*typed.pat, syn::Pat::Tuple(_))
            {
                self.0.push(signature.ident.to_string());
            }
        }
        visit::visit_signature(self, signature);
    }
}
