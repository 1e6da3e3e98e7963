//! The page without a socket: what is asked, and what is answered. Tests throw requests at it.

use std::sync::Arc;

use hyper::Method;

use crate::desk::{Desk, Given};
use crate::routes;

/// The page of one job.
#[derive(Debug)]
pub struct Page(Arc<Desk>);

impl Page {
    /// The page that begins with what is given.
    #[must_use]
    pub fn new(given: Given) -> Self {
        Self(Arc::new(Desk::new(given)))
    }

    /// The status and the body of what a POST to a path is answered with.
    #[must_use]
    pub fn post(&self, path: &str, body: &[u8]) -> (u16, Vec<u8>) {
        let reply = routes::answer(&self.0, &Method::POST, path, body.to_vec());
        (reply.status.as_u16(), reply.body)
    }
}
