//! A list of lists in compressed form.

use std::ops::Range;

/// Lists of numbers stored contiguously, as in the compressed columns of a sparse matrix.
pub(super) struct JaggedArray {
    /// Start of each list, and the end of the last one.
    pub starts: Vec<u32>,
    pub items: Vec<u32>,
}

impl JaggedArray {
    /// `count` lists: each pair appends its second number to the list of its first.
    pub fn of_pairs(
        count: usize,
        pairs: impl Iterator<Item = (usize, usize)> + Clone,
    ) -> JaggedArray {
        let mut starts = vec![0u32; count + 1];
        for (list, _) in pairs.clone() {
            starts[list + 1] += 1;
        }
        for list in 0..count {
            starts[list + 1] += starts[list];
        }
        let mut next = starts.clone();
        let mut items = vec![0; starts[count] as usize];
        for (list, item) in pairs {
            items[next[list] as usize] = item as u32;
            next[list] += 1;
        }
        JaggedArray { starts, items }
    }

    pub fn range(&self, list: usize) -> Range<usize> {
        self.starts[list] as usize..self.starts[list + 1] as usize
    }

    pub fn of(&self, list: usize) -> &[u32] {
        &self.items[self.range(list)]
    }
}
