/// The certificate with which the pages answer over HTTPS: one of our own, made and kept beside the
/// workshop, or one that the user brings.
#pragma once

#include <chrono>
#include <filesystem>
#include <string>
#include <vector>

#include "propwright/base/problem.h"

namespace propwright::server {

struct CertificateFiles {
  std::filesystem::path certificate, key;  ///< PEM
  bool made = false;                       ///< anew, so that devices have to be told again
};

/// The own certificate in `folder` (propwright-certificate.pem, propwright-key.pem, which only the
/// user may read): the one that is there while it is good for a week more and names all of `hosts`,
/// else a new one, self-signed with a P-256 key, good for 820 days. `hosts` are names and
/// addresses, "192.168.1.20"; localhost and the loopback addresses are always named. Problem:
/// resource_failed when it cannot be written.
base::Expected<CertificateFiles> own_certificate(const std::filesystem::path& folder,
                                                 const std::vector<std::string>& hosts,
                                                 std::chrono::system_clock::time_point now);

/// The user's own files. Problems of `--certificate` and `--key`: not there, no PEM, a key that
/// does not belong to the certificate, one that is not good at `now`.
base::Expected<CertificateFiles> given_certificate(const std::filesystem::path& certificate,
                                                   const std::filesystem::path& key,
                                                   std::chrono::system_clock::time_point now);

/// SHA-256 of a certificate file, "A1:B2:...", to compare on the phone; empty where it cannot be
/// read.
std::string fingerprint(const std::filesystem::path& certificate);

/// Addresses of this machine in its networks, "192.168.1.20".
std::vector<std::string> network_addresses();

}  // namespace propwright::server
