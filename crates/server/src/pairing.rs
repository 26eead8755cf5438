//! Letting a device in: a person at the server makes a one-time code, the phone sends it and gets a key
//! of its own. The key is told once; the store keeps its SHA-256.

use axum::{
    Extension,
    extract::Request,
    http::StatusCode,
    response::{IntoResponse, Response},
};
use serde::{Deserialize, Serialize};
use serde_json::json;
use sha2::{Digest, Sha256};
use store::{NewDevice, Pairing, Store};
use sync::Refusal;

use crate::{
    changes::{json as json_answer, takes_json},
    clock,
    code::Code,
    error::ServerError,
    gate, page,
    problem::Problem,
    qr,
    shared::{Device, State},
};

/// How long a code is good.
pub(crate) const CODE_MS: i64 = 600_000;
/// Whose a device is, until there are several people.
const PERSON: &str = "inspector";
/// The longest name of a device, in characters.
const NAME_LETTERS: usize = 60;
/// The largest body of a pairing.
const BODY_BYTES: usize = 4 << 10;
/// Where the store keeps the address that a running server can be reached at.
const ADDRESS_SETTING: &str = "server.address";

/// Makes a one-time code, good for ten minutes; whoever pairs with it may see `job` alone, if one is given.
pub fn make_code(store: &Store, job: Option<&store::JobId>) -> Result<Code, ServerError> {
    let mut bits = [0; 5];
    random(&mut bits)?;
    let code = Code::from_random(bits);
    let now = clock::unix_ms();
    store.add_pairing_code(code.sha256(), now, now + CODE_MS, job)?;
    Ok(code)
}

/// The address at which the server of this data folder was last started.
pub fn remembered_address(store: &Store) -> Result<Option<String>, ServerError> {
    Ok(store.setting(ADDRESS_SETTING)?)
}

/// Keeps it for `nearside pair`.
pub(crate) fn remember_address(store: &Store, address: &str) -> Result<(), ServerError> {
    Ok(store.set_setting(ADDRESS_SETTING, address)?)
}

/// What a phone opens to pair: the app, with the code where no server sees or logs it.
#[must_use]
pub fn link(address: &str, code: &Code) -> String {
    format!("{}/#pair={code}", address.trim_end_matches('/'))
}

#[derive(Deserialize)]
struct Asked {
    code: String,
    name: String,
}

#[derive(Serialize)]
struct Answer<'a> {
    device: &'a str,
    key: &'a str,
    server: &'a str,
}

/// `POST /v1/pair`
pub(crate) async fn pair(shared: State, request: Request) -> Result<Response, Problem> {
    let peer = gate::peer(&request);
    let (parts, body) = request.into_parts();
    takes_json(&parts.headers)?;
    shared.try_to_pair(peer)?;
    let body = shared.body(&parts.headers, body, BODY_BYTES).await?;
    let asked: Asked = serde_json::from_slice(&body)
        .map_err(|error| Problem::from(Refusal::Unreadable { why: error.to_string() }))?;
    let name = asked.name.trim().to_owned();
    let fits = (1..=NAME_LETTERS).contains(&name.chars().count());
    if !fits || name.chars().any(char::is_control) {
        let why = format!("name: a device's name takes 1 to {NAME_LETTERS} characters");
        return Err(Refusal::Unreadable { why }.into());
    }
    let Some(code) = Code::read(&asked.code) else {
        let why = "code: a code has 8 letters and digits, such as 7K2M-90QX";
        return Err(Refusal::Unreadable { why: why.into() }.into());
    };
    let (mut id, mut key) = ([0; 16], [0; 32]);
    random(&mut id).and_then(|()| random(&mut key)).map_err(|error| {
        tracing::error!(%error, "pairing failed");
        Problem::from(Refusal::Other)
    })?;
    let (id, key) = (hexadecimal(&id), hexadecimal(&key));
    let device = NewDevice {
        id: id.clone(),
        name,
        person: PERSON.into(),
        key: Sha256::digest(&key).to_vec(),
    };
    let paired = shared
        .pool
        .with(move |store| Ok(store.pair(code.sha256(), clock::unix_ms(), &device)?))
        .await?;
    let refused = |reason, detail| {
        shared.metrics.pairing(false);
        tracing::warn!(%peer, reason, "pairing refused");
        Err(Problem::new(StatusCode::FORBIDDEN, reason, detail))
    };
    match paired {
        Pairing::Paired => {}
        Pairing::UnknownCode => {
            return refused("code_unknown", "there is no such code; look at it again");
        }
        Pairing::ExpiredCode => {
            return refused("code_expired", "the code's ten minutes are over; make a new one");
        }
        Pairing::UsedCode => {
            return refused("code_used", "the code was used before; make a new one");
        }
    }
    shared.metrics.pairing(true);
    tracing::info!(%peer, device = %id, "paired");
    let answer = Answer { device: &id, key: &key, server: &shared.name };
    Ok(json_answer(json!(answer).to_string().into_bytes()))
}

/// `GET /v1/me`
pub(crate) async fn me(shared: State, Extension(device): Extension<Device>) -> Response {
    let me = json!({
        "device": device.id,
        "name": device.name,
        "person": device.person,
        "role": device.role,
        "job": device.job.as_ref().map(sync::JobId::as_str),
        "server": shared.name,
    });
    json_answer(me.to_string().into_bytes())
}

/// `GET /pair`, for a person at the server's own machine.
pub(crate) async fn code_page(shared: State) -> Result<Response, Problem> {
    // Reloading the page makes codes; each could let somebody in.
    shared.try_to_pair(std::net::Ipv6Addr::UNSPECIFIED.into())?;
    let code = shared
        .pool
        .with(|store| {
            let failed = |error: ServerError| match error {
                ServerError::Store(error) => Problem::from(error),
                other => {
                    tracing::error!(%other, "no code could be made");
                    Refusal::Other.into()
                }
            };
            make_code(store, None).map_err(failed)
        })
        .await?;
    let address = &shared.address;
    let link = link(address, &code);
    let picture = qr::as_svg(&link).unwrap_or_default();
    let text = format!(
        "<p>Open the camera of the phone and point it at this, or open <b>{}</b> on the phone and type the \
         code. The phone must be able to reach this machine.</p>\n<div class=\"qr\">{picture}</div>\n\
         <p class=\"code\">{code}</p>\n<p>The code lets one device in, once, within ten minutes. Reload this page for \
         another one. Devices are listed by <code>nearside device list</code> and shut out by \
         <code>nearside device remove</code>.</p>",
        page::escape(address),
    );
    Ok(page::page("Pair a phone", &text).into_response())
}

fn random(bytes: &mut [u8]) -> Result<(), ServerError> {
    getrandom::fill(bytes).map_err(|error| ServerError::System {
        doing: "drawing random numbers",
        why: error.to_string(),
    })
}

fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
