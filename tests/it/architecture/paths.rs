//! Every path that a source file names: in `use` trees, inline, in attributes and inside macros.

use proc_macro2::{TokenStream, TokenTree};
use syn::visit::{self, Visit};

/// What one file names, each path once per place, as `room::…` or `crate_from_outside::…`.
#[derive(Debug, Default)]
pub struct Named {
    /// Paths from the root of this crate, its own name left off. `*` ends a glob.
    pub inside: Vec<Vec<String>>,
    /// Every other path as it is written.
    pub outside: Vec<Vec<String>>,
    /// Methods called and macros used outside of `#[cfg(test)]`.
    pub methods: Vec<String>,
    pub macros: Vec<String>,
}

/// The names in `code`, a file that is the module `module` (`["lower", "run"]`).
pub fn named(code: &str, module: &[&str]) -> syn::Result<Named> {
    let file = syn::parse_file(code)?;
    let mut walk = Walk {
        module: module.iter().map(|part| (*part).to_string()).collect(),
        named: Named::default(),
        tests: 0,
        in_attribute: false,
    };
    walk.visit_file(&file);
    Ok(walk.named)
}

struct Walk {
    module: Vec<String>,
    named: Named,
    /// How many `#[cfg(test)]` items deep.
    tests: usize,
    in_attribute: bool,
}

impl Walk {
    /// Files a path by where it leads; `from_root`: it began with `::`.
    fn note(&mut self, path: &[String], from_root: bool) {
        let Some(first) = path.first() else { return };
        let mut at = match first.as_str() {
            _ if from_root => return self.note_outside(path),
            "crate" | "fallwright" => Vec::new(),
            "self" | "super" => self.module.clone(),
            _ => return self.note_outside(path),
        };
        for (index, part) in path.iter().enumerate() {
            match part.as_str() {
                "super" => drop(at.pop()),
                "crate" | "self" | "fallwright" if index == 0 => {}
                "self" => {}
                _ => at.push(part.clone()),
            }
        }
        self.named.inside.push(at);
    }

    /// A path in the midst of code: a single word is a local name, not a path.
    fn inline(&mut self, path: &[String], from_root: bool) {
        if path.len() > 1 {
            self.note(path, from_root);
        }
    }

    fn note_outside(&mut self, path: &[String]) {
        let ends = path.last().filter(|_| path.len() > 1 && self.tests == 0);
        // `.map(Option::unwrap)` names the method without calling it.
        self.named.methods.extend(ends.cloned());
        self.named.outside.push(path.to_vec());
    }

    fn use_tree(&mut self, tree: &syn::UseTree, before: &[String], from_root: bool) {
        let with = |name: String| [before, &[name]].concat();
        match tree {
            syn::UseTree::Path(path) => {
                self.use_tree(&path.tree, &with(path.ident.to_string()), from_root);
            }
            syn::UseTree::Name(name) => self.note(&with(name.ident.to_string()), from_root),
            syn::UseTree::Rename(name) => {
                let mut path = with(name.ident.to_string());
                path.retain(|part| part != "self");
                // A whole crate under another name hides what is taken from it, as a glob does.
                if path.len() == 1 {
                    path.push("*".to_string());
                }
                self.note(&path, from_root);
            }
            syn::UseTree::Glob(_) => self.note(&with("*".to_string()), from_root),
            syn::UseTree::Group(group) => {
                for item in &group.items {
                    self.use_tree(item, before, from_root);
                }
            }
        }
    }

    /// Paths, methods and macros in tokens that are not parsed.
    fn tokens(&mut self, tokens: &TokenStream) {
        let trees: Vec<TokenTree> = tokens.clone().into_iter().collect();
        let is = |at: usize, sign: char| matches!(trees.get(at), Some(TokenTree::Punct(p)) if p.as_char() == sign);
        let mut at = 0;
        while let Some(tree) = trees.get(at) {
            match tree {
                TokenTree::Group(group) => self.tokens(&group.stream()),
                TokenTree::Literal(text) if self.in_attribute => self.text(&text.to_string()),
                TokenTree::Ident(first) => {
                    let start = at;
                    let mut path = vec![first.to_string()];
                    while is(at + 1, ':') && is(at + 2, ':') {
                        match trees.get(at + 3) {
                            Some(TokenTree::Ident(next)) => path.push(next.to_string()),
                            Some(TokenTree::Group(group)) => self.tokens_under(&path, group),
                            _ => break,
                        }
                        at += 3;
                    }
                    let from_root = start > 1 && is(start - 1, ':') && is(start - 2, ':');
                    self.token_path(
                        &path,
                        from_root,
                        start > 0 && is(start - 1, '.'),
                        is(at + 1, '!'),
                    );
                }
                TokenTree::Literal(_) | TokenTree::Punct(_) => {}
            }
            at += 1;
        }
    }

    fn token_path(&mut self, path: &[String], from_root: bool, method: bool, macro_: bool) {
        let last = path.last().cloned();
        if self.tests == 0 && method {
            self.named.methods.extend(last);
        } else if self.tests == 0 && macro_ {
            self.named.macros.extend(last);
        }
        self.inline(path, from_root);
    }

    /// `use a::{b, c}` inside a macro: every name of the group under the path before it.
    fn tokens_under(&mut self, before: &[String], group: &proc_macro2::Group) {
        if let Ok(tree) = syn::parse2::<syn::UseTree>(TokenTree::Group(group.clone()).into()) {
            self.use_tree(&tree, before, false);
        }
    }

    /// A path in quotes, as attributes hold them.
    fn text(&mut self, quoted: &str) {
        let path = quoted.trim_matches('"');
        if ["crate::", "super::", "self::", "std::"]
            .iter()
            .any(|start| path.starts_with(start))
        {
            let parts: Vec<String> = path.split("::").map(str::to_string).collect();
            self.note(&parts, false);
        }
    }
}

impl<'ast> Visit<'ast> for Walk {
    fn visit_item(&mut self, item: &'ast syn::Item) {
        let test = usize::from(is_test(attributes(item)));
        self.tests += test;
        visit::visit_item(self, item);
        self.tests -= test;
    }

    fn visit_item_mod(&mut self, item: &'ast syn::ItemMod) {
        self.module.push(item.ident.to_string());
        visit::visit_item_mod(self, item);
        self.module.pop();
    }

    fn visit_item_use(&mut self, item: &'ast syn::ItemUse) {
        self.use_tree(&item.tree, &[], item.leading_colon.is_some());
        visit::visit_item_use(self, item);
    }

    fn visit_item_extern_crate(&mut self, item: &'ast syn::ItemExternCrate) {
        self.note(&[item.ident.to_string(), "*".to_string()], false);
    }

    fn visit_path(&mut self, path: &'ast syn::Path) {
        let parts: Vec<String> = path
            .segments
            .iter()
            .map(|part| part.ident.to_string())
            .collect();
        self.inline(&parts, path.leading_colon.is_some());
        visit::visit_path(self, path);
    }

    fn visit_expr_method_call(&mut self, call: &'ast syn::ExprMethodCall) {
        if self.tests == 0 {
            self.named.methods.push(call.method.to_string());
        }
        visit::visit_expr_method_call(self, call);
    }

    fn visit_macro(&mut self, used: &'ast syn::Macro) {
        let name = used.path.segments.last().map(|part| part.ident.to_string());
        if self.tests == 0 {
            self.named.macros.extend(name);
        }
        self.tokens(&used.tokens);
        visit::visit_macro(self, used);
    }

    fn visit_attribute(&mut self, attribute: &'ast syn::Attribute) {
        if !attribute.path().is_ident("doc")
            && let syn::Meta::List(list) = &attribute.meta
        {
            self.in_attribute = true;
            self.tokens(&list.tokens);
            self.in_attribute = false;
        }
        visit::visit_attribute(self, attribute);
    }
}

fn attributes(item: &syn::Item) -> &[syn::Attribute] {
    match item {
        syn::Item::Fn(item) => &item.attrs,
        syn::Item::Impl(item) => &item.attrs,
        syn::Item::Mod(item) => &item.attrs,
        _ => &[],
    }
}

fn is_test(attributes: &[syn::Attribute]) -> bool {
    attributes.iter().any(|attribute| {
        attribute.path().is_ident("cfg")
            && attribute
                .parse_args::<syn::Path>()
                .is_ok_and(|what| what.is_ident("test"))
    })
}
