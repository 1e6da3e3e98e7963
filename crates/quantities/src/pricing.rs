//! STUB
/// STUB
pub fn price(
    _: &mut crate::bill::Bill,
    _: &crate::job::Job,
    _: &crate::rates::Stock,
    _: &crate::rates::PriceList,
    _: &str,
) -> Vec<crate::problem::Problem> {
    vec![]
}
