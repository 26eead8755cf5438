//! Under which addresses and names this machine can be reached.

use std::net::{IpAddr, Ipv4Addr, Ipv6Addr, SocketAddr, UdpSocket};

use crate::certificate::may_speak_for;

/// Under which addresses and names a server that listens at an address can be reached.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Reach {
    /// The one to give to others.
    pub(crate) best: IpAddr,
    /// All, the machine's own ones included.
    pub(crate) addresses: Vec<IpAddr>,
    /// Names.
    pub(crate) names: Vec<String>,
}

/// How a server that listens at `at` can be reached.
pub(crate) fn reach(at: SocketAddr) -> Reach {
    let here = [IpAddr::V4(Ipv4Addr::LOCALHOST), IpAddr::V6(Ipv6Addr::LOCALHOST)];
    let mut names = vec!["localhost".to_owned()];
    names.extend(host_name().map(|name| format!("{name}.local")));
    if !at.ip().is_unspecified() {
        let others = here.into_iter().filter(|address| *address != at.ip());
        let addresses = std::iter::once(at.ip()).chain(others).collect();
        return Reach { best: at.ip(), addresses, names };
    }
    let mut addresses: Vec<IpAddr> = [
        own_address(Ipv4Addr::UNSPECIFIED.into(), "192.0.2.1:9"),
        at.is_ipv6()
            .then(|| own_address(Ipv6Addr::UNSPECIFIED.into(), "[2001:db8::1]:9"))
            .flatten(),
    ]
    .into_iter()
    .flatten()
    .filter(|address| may_speak_for(*address) && !address.is_loopback())
    .collect();
    let best = addresses.first().copied().unwrap_or(here[0]);
    addresses.extend(here);
    Reach { best, addresses, names }
}

/// The address with which this machine would speak to another one. Nothing is sent: the address asked
/// for is one of those that are kept for documentation (RFC 5737, 3849).
fn own_address(from: IpAddr, to: &str) -> Option<IpAddr> {
    let socket = UdpSocket::bind((from, 0)).ok()?;
    socket.connect(to).ok()?;
    let address = socket.local_addr().ok()?.ip();
    (!address.is_unspecified()).then_some(address)
}

/// What this machine is called, or `Nearside` if that is not known.
#[must_use]
pub fn machine_name() -> String {
    host_name().unwrap_or_else(|| "Nearside".into())
}

/// What this machine is called, if that may stand in an address.
pub(crate) fn host_name() -> Option<String> {
    let from_system = std::fs::read_to_string("/proc/sys/kernel/hostname").ok();
    let from_shell =
        || ["HOSTNAME", "COMPUTERNAME"].into_iter().find_map(|name| std::env::var(name).ok());
    let name = from_system.or_else(from_shell)?;
    let first = name.trim().split('.').next()?.to_ascii_lowercase();
    let fits = (1..=63).contains(&first.len())
        && first.bytes().all(|byte| byte.is_ascii_alphanumeric() || byte == b'-')
        && !first.starts_with('-')
        && !first.ends_with('-');
    fits.then_some(first)
}

/// An address as it stands in a link.
pub(crate) fn link(scheme: &str, address: IpAddr, port: u16) -> String {
    format!("{scheme}://{}/", SocketAddr::new(address, port))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_server_on_one_address_is_reached_there_and_from_its_own_machine() {
        let reach = reach("192.168.1.20:8470".parse().unwrap());
        let texts: Vec<String> = reach.addresses.iter().map(ToString::to_string).collect();
        assert_eq!(texts, ["192.168.1.20", "127.0.0.1", "::1"]);
        assert_eq!(link("https", reach.best, 8470), "https://192.168.1.20:8470/");
        assert_eq!(link("http", "::1".parse().unwrap(), 1), "http://[::1]:1/");
    }
}
