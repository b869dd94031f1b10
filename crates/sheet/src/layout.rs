//! The table of keys as a tree: which tables a sheet may have, and which keys stand in them.

use std::sync::OnceLock;

use engine::car::KeyId;

/// A table, a key, or a name that may be either (`bias_valve.knee`).
#[derive(Debug)]
pub(crate) struct Node {
    /// Its name in its table, without `[]`.
    pub(crate) name: &'static str,
    /// Its path as the table of keys writes it, `[]` behind a repeated table.
    pub(crate) path: &'static str,
    /// The key that it is.
    pub(crate) leaf: Option<KeyId>,
    /// Whether it is a table that may stand several times.
    pub(crate) repeats: bool,
    /// What stands in it, in the order of the table of keys.
    pub(crate) children: Vec<Self>,
}

impl Node {
    const fn new(name: &'static str, path: &'static str, repeats: bool) -> Self {
        Self {
            name,
            path,
            leaf: None,
            repeats,
            children: Vec::new(),
        }
    }

    /// What has this name in the table.
    pub(crate) fn child(&self, name: &str) -> Option<&Self> {
        self.children.iter().find(|child| child.name == name)
    }

    pub(crate) fn is_table(&self) -> bool {
        !self.children.is_empty()
    }

    /// The path with the number of the entry, as a person writes it.
    pub(crate) fn shown(&self, entry: usize) -> String {
        self.path.replace("[]", &format!("[{}]", entry + 1))
    }

    /// This and everything in it.
    pub(crate) fn each<'a>(&'a self, see: &mut dyn FnMut(&'a Self)) {
        see(self);
        for child in &self.children {
            child.each(see);
        }
    }
}

/// The whole sheet.
pub(crate) fn sheet() -> &'static Node {
    static TREE: OnceLock<Node> = OnceLock::new();
    TREE.get_or_init(|| {
        let mut root = Node::new("", "", false);
        for id in KeyId::all() {
            let path = id.key().path;
            let mut node = &mut root;
            let mut end = 0;
            for part in path.split('.') {
                end += part.len() + usize::from(end > 0);
                let (name, repeats) = part.strip_suffix("[]").map_or((part, false), |name| (name, true));
                let at = node
                    .children
                    .iter()
                    .position(|child| child.name == name)
                    .unwrap_or(node.children.len());
                if at == node.children.len() {
                    node.children.push(Node::new(name, &path[..end], repeats));
                }
                node = &mut node.children[at];
            }
            node.leaf = Some(id);
        }
        root
    })
}
