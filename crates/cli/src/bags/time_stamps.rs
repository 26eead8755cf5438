//! Time stamps from a service that the user names: asked for over HTTP, checked, kept with the release.

use std::io::Read;
use std::time::Duration;

use bag::{Bag, Sha256, TimeStamp, TimeStampRequest};
use serde_json::{Value, json};
use store::{JobId, Store};

use crate::bags::releases;
use crate::failure::Failure;

/// How long a service may take in all; a release never waits longer for it.
const PATIENCE: Duration = Duration::from_secs(30);
/// Answers have some 5,000 bytes.
const LARGEST_ANSWER: u64 = 256 * 1024;

/// A service and the policy asked of it, looked at before anything is done.
#[derive(Clone, Debug)]
pub(crate) struct Service {
    address: String,
    policy: Option<String>,
}

impl Service {
    /// A service by its address.
    pub(crate) fn new(address: &str, policy: Option<&str>) -> Result<Self, Failure> {
        let known = address.strip_prefix("http://").or_else(|| address.strip_prefix("https://"));
        if known.is_none_or(str::is_empty) || address.contains(char::is_whitespace) {
            return Err(Failure::input(format!(
                "`{address}` is no address of a time stamp service"
            ))
            .hint("write the whole address that its operator names: http://… or https://…"));
        }
        let service = Self { address: address.to_owned(), policy: policy.map(str::to_owned) };
        service.request(Sha256::of(b""))?;
        Ok(service)
    }

    fn request(&self, sha256: Sha256) -> Result<TimeStampRequest, Failure> {
        let mut nonce = [0; 8];
        getrandom::fill(&mut nonce).map_err(Failure::failed)?;
        TimeStampRequest::new(sha256, nonce, self.policy.as_deref()).map_err(|why| {
            Failure::input(why).hint("the service's operator publishes its policies")
        })
    }

    /// Asks for a stamp on the release and keeps the answer beside the signatures.
    ///
    /// The outer failure is one of this computer; the inner sentence says why there is no stamp, and nothing has changed
    /// then.
    pub(crate) fn stamp(
        &self,
        store: &Store,
        job: &JobId,
        release: u32,
        bag: &mut Bag,
    ) -> Result<Result<TimeStamp, String>, Failure> {
        let request = self.request(bag.tag_manifest_sha256())?;
        let answered = ask(&self.address, &request.to_der())
            .and_then(|answer| request.accept(&answer).map(|stamp| (answer, stamp)));
        match answered {
            Err(why) => Ok(Err(format!("{}: {why}", self.address))),
            Ok((answer, stamp)) => {
                bag.add_time_stamp(&answer);
                releases::keep(store, job, release, bag)?;
                Ok(Ok(stamp))
            }
        }
    }
}

/// Sends the request (RFC 3161, 3.4) and gives the bytes of the answer.
fn ask(service: &str, request: &[u8]) -> Result<Vec<u8>, String> {
    let config = ureq::Agent::config_builder()
        .timeout_global(Some(PATIENCE))
        .http_status_as_error(false)
        // A request that is sent on would arrive as another one.
        .max_redirects(0)
        .max_redirects_will_error(false)
        .user_agent(concat!("nearside/", env!("CARGO_PKG_VERSION")))
        .build();
    let mut answer = ureq::Agent::new_with_config(config)
        .post(service)
        .header("Content-Type", "application/timestamp-query")
        .header("Accept", "application/timestamp-reply")
        .send(request)
        .map_err(|error| reached(&error))?;
    if !answer.status().is_success() {
        return Err(format!("the service answered with HTTP status {}", answer.status().as_u16()));
    }
    let mut bytes = Vec::new();
    answer
        .body_mut()
        .as_reader()
        .take(LARGEST_ANSWER + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| format!("its answer broke off: {error}"))?;
    if u64::try_from(bytes.len()).unwrap_or(u64::MAX) > LARGEST_ANSWER {
        return Err("its answer is far too long for a time stamp".to_owned());
    }
    Ok(bytes)
}

fn reached(error: &ureq::Error) -> String {
    match error {
        ureq::Error::HostNotFound => "no such host was found; is there a network?".to_owned(),
        ureq::Error::Timeout(_) => format!("no answer within {} s", PATIENCE.as_secs()),
        other => format!("the service could not be reached: {other}"),
    }
}

/// What a stamp says, a line each.
pub(crate) fn lines(stamp: &TimeStamp) -> Vec<String> {
    let accuracy = if stamp.accuracy.is_empty() {
        String::new()
    } else {
        format!(" (accurate to {} as it says)", stamp.accuracy)
    };
    let above = match stamp.vouchers.split_first() {
        Some((_, above)) if !above.is_empty() => {
            format!(", for which vouch: {}", above.join("; then "))
        }
        _ => String::new(),
    };
    let end = if stamp.rooted {
        "the last vouches for itself: whether to trust it is for you to know"
    } else {
        "who vouches for the last is not in it: whether to trust it is for you to find out"
    };
    vec![
        format!("was there on {}{accuracy} by the time stamp of {}", stamp.at, stamp.service()),
        format!("  policy {}, number {}", stamp.policy, stamp.serial),
        format!("  signed by {}{above}; {end}", stamp.service()),
    ]
}

/// The same for programs.
pub(crate) fn object(stamp: &TimeStamp) -> Value {
    json!({
        "at": stamp.at,
        "accuracy": stamp.accuracy,
        "service": stamp.service(),
        "vouchers": stamp.vouchers,
        "rooted": stamp.rooted,
        "policy": stamp.policy,
        "number": stamp.serial,
    })
}
