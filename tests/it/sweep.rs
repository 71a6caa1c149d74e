//! Many cases at once.

use fallwright::sweep::each;

#[test]
fn answers_come_in_the_order_of_the_items() {
    let items: Vec<u64> = (0..200).collect();
    // The first take longest, so that the last are done before them.
    let slow = |item: &u64| {
        let turns = (200 - item) * 500;
        std::hint::black_box((0..turns).sum::<u64>());
        *item
    };
    assert_eq!(each(&items, slow), items);
    assert!(each(&[] as &[u64], slow).is_empty());
}
