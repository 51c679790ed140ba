#include "propwright/server/certificate.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <openssl/bio.h>
#include <openssl/ec.h>
#include <openssl/evp.h>
#include <openssl/pem.h>
#include <openssl/rand.h>
#include <openssl/x509v3.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cctype>
#include <cerrno>
#include <cstring>
#include <fstream>
#include <memory>
#include <sstream>
#include <system_error>

#include "addresses.h"

namespace propwright::server {
namespace {

namespace fs = std::filesystem;
using When = std::chrono::system_clock::time_point;

constexpr long good_for_days = 820;  // more than 825 some phones refuse
constexpr auto renewed_before = std::chrono::hours(24 * 7);

template <auto free>
struct Freed {
  template <class T>
  void operator()(T* object) const {
    free(object);
  }
};
using Certificate = std::unique_ptr<X509, Freed<X509_free>>;
using Key = std::unique_ptr<EVP_PKEY, Freed<EVP_PKEY_free>>;
using Bio = std::unique_ptr<BIO, Freed<BIO_free>>;

base::Problem cannot_be_made(const fs::path& path, const std::string& why) {
  return {.kind = base::Kind::resource_failed,
          .file = path.string(),
          .field = "--tls",
          .remedy = "make the folder writable, or give --certificate and --key",
          .message = "the certificate cannot be kept: " + why};
}

std::string bytes_of(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  text << file.rdbuf();
  return file ? text.str() : std::string();
}

Certificate certificate_in(const fs::path& path) {
  const std::string pem = bytes_of(path);
  const Bio bio(BIO_new_mem_buf(pem.data(), static_cast<int>(pem.size())));
  return Certificate(PEM_read_bio_X509(bio.get(), nullptr, nullptr, nullptr));
}

Key key_in(const fs::path& path) {
  const std::string pem = bytes_of(path);
  const Bio bio(BIO_new_mem_buf(pem.data(), static_cast<int>(pem.size())));
  // A key under a passphrase is refused instead of asked for on the terminal.
  return Key(PEM_read_bio_PrivateKey(
      bio.get(), nullptr, [](char*, int, int, void*) { return 0; }, nullptr));
}

bool good_at(const X509& certificate, When when) {
  std::time_t time = std::chrono::system_clock::to_time_t(when);
  return X509_cmp_time(X509_get0_notBefore(&certificate), &time) < 0 &&
         X509_cmp_time(X509_get0_notAfter(&certificate), &time) > 0;
}

bool is_address(const std::string& host) {
  return host.find_first_not_of("0123456789.") == host.npos || host.find(':') != host.npos;
}

bool names(X509& certificate, const std::string& host) {
  return is_address(host)
             ? X509_check_ip_asc(&certificate, host.c_str(), 0) == 1
             : X509_check_host(&certificate, host.c_str(), host.size(), 0, nullptr) == 1;
}

std::vector<std::string> with_loopback(std::vector<std::string> hosts) {
  for (const char* own : {"localhost", "127.0.0.1", "::1"}) hosts.emplace_back(own);
  return hosts;
}

bool add_extension(X509& certificate, int kind, const std::string& value) {
  X509V3_CTX context;
  X509V3_set_ctx_nodb(&context);
  X509V3_set_ctx(&context, &certificate, &certificate, nullptr, nullptr, 0);
  const std::unique_ptr<X509_EXTENSION, Freed<X509_EXTENSION_free>> extension(
      X509V3_EXT_conf_nid(nullptr, &context, kind, value.c_str()));
  return extension && X509_add_ext(&certificate, extension.get(), -1) == 1;
}

bool name_it(X509& certificate) {
  unsigned char serial[16] = {};
  if (RAND_bytes(serial, sizeof serial) != 1) return false;
  serial[0] &= 0x7f;  // a positive number
  const std::unique_ptr<BIGNUM, Freed<BN_free>> number(BN_bin2bn(serial, sizeof serial, nullptr));
  if (!number || BN_to_ASN1_INTEGER(number.get(), X509_get_serialNumber(&certificate)) == nullptr) {
    return false;
  }
  X509_NAME* const name = X509_get_subject_name(&certificate);
  const auto* const words = reinterpret_cast<const unsigned char*>("Propwright on this machine");
  return X509_NAME_add_entry_by_txt(name, "CN", MBSTRING_UTF8, words, -1, -1, 0) == 1 &&
         X509_set_issuer_name(&certificate, name) == 1;
}

/// What this authority may vouch for: the names it serves and nothing else, whoever has its key.
std::string constraints_to(const std::vector<std::string>& hosts) {
  std::string text = "critical";
  for (const std::string& host : hosts) {
    if (!is_address(host)) {
      text += ",permitted;DNS:" + host;
    } else if (host.find(':') == host.npos) {
      text += ",permitted;IP:" + host + "/255.255.255.255";
    } else {
      text += ",permitted;IP:" + host + "/ffff:ffff:ffff:ffff:ffff:ffff:ffff:ffff";
    }
  }
  return text;
}

/// Self-signed, and an authority of its own: phones take in nothing else.
Certificate self_signed(EVP_PKEY& key, const std::vector<std::string>& hosts, When now) {
  Certificate certificate(X509_new());
  if (!certificate) return nullptr;
  X509& made = *certificate;
  std::string alternatives;
  for (const std::string& host : hosts) {
    if (!alternatives.empty()) alternatives += ",";
    alternatives += (is_address(host) ? "IP:" : "DNS:") + host;
  }
  std::time_t from = std::chrono::system_clock::to_time_t(now - std::chrono::hours(24));
  const bool sound =
      X509_set_version(&made, 2) == 1 && name_it(made) &&
      X509_time_adj_ex(X509_getm_notBefore(&made), 0, 0, &from) != nullptr &&
      X509_time_adj_ex(X509_getm_notAfter(&made), good_for_days, 0, &from) != nullptr &&
      X509_set_pubkey(&made, &key) == 1 &&
      add_extension(made, NID_basic_constraints, "critical,CA:TRUE,pathlen:0") &&
      add_extension(made, NID_key_usage, "critical,digitalSignature,keyCertSign") &&
      add_extension(made, NID_ext_key_usage, "serverAuth") &&
      add_extension(made, NID_subject_alt_name, alternatives) &&
      add_extension(made, NID_name_constraints, constraints_to(hosts)) &&
      X509_sign(&made, &key, EVP_sha256()) > 0;
  return sound ? std::move(certificate) : nullptr;
}

template <class Write>
std::string pem_of(const Write& write) {
  const Bio bio(BIO_new(BIO_s_mem()));
  if (!bio || write(bio.get()) != 1) return {};
  char* bytes = nullptr;
  const long count = BIO_get_mem_data(bio.get(), &bytes);
  return {bytes, static_cast<std::size_t>(count)};
}

/// Whole or not at all, and never readable by others, not for a moment.
bool write_file(const fs::path& path, const std::string& bytes, mode_t mode) {
  const fs::path fresh = path.string() + ".new";
  const int file = open(fresh.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, mode);
  if (file < 0) return false;
  bool sound = fchmod(file, mode) == 0;
  for (std::size_t done = 0; sound && done < bytes.size();) {
    const ssize_t count = write(file, bytes.data() + done, bytes.size() - done);
    sound = count > 0;
    if (sound) done += static_cast<std::size_t>(count);
  }
  sound = fsync(file) == 0 && sound;
  close(file);
  return sound && rename(fresh.c_str(), path.c_str()) == 0;
}

base::Problem bad_file(const char* option, const fs::path& path, const std::string& message,
                       const std::string& remedy) {
  return {.field = option, .value = path.string(), .remedy = remedy, .message = message};
}

}  // namespace

base::Expected<CertificateFiles> own_certificate(const fs::path& folder,
                                                 const std::vector<std::string>& hosts, When now) {
  CertificateFiles files{folder / "propwright-certificate.pem", folder / "propwright-key.pem",
                         false};
  const std::vector<std::string> all = with_loopback(hosts);
  const Certificate present = certificate_in(files.certificate);
  const Key present_key = key_in(files.key);
  const bool serves = present && present_key &&
                      X509_check_private_key(present.get(), present_key.get()) == 1 &&
                      X509_get_ext_by_NID(present.get(), NID_name_constraints, -1) >= 0 &&
                      good_at(*present, now) && good_at(*present, now + renewed_before) &&
                      std::all_of(all.begin(), all.end(),
                                  [&](const std::string& host) { return names(*present, host); });
  if (serves) return files;
  const Key key(EVP_EC_gen("P-256"));
  const Certificate made = key ? self_signed(*key, all, now) : nullptr;
  if (!made) return base::fail(cannot_be_made(files.certificate, "OpenSSL makes none"));
  const std::string key_pem = pem_of([&](BIO* out) {
    return PEM_write_bio_PKCS8PrivateKey(out, key.get(), nullptr, nullptr, 0, nullptr, nullptr);
  });
  const std::string pem = pem_of([&](BIO* out) { return PEM_write_bio_X509(out, made.get()); });
  errno = 0;
  if (key_pem.empty() || pem.empty() || !write_file(files.key, key_pem, 0600) ||
      !write_file(files.certificate, pem, 0644)) {
    return base::fail(cannot_be_made(files.key, std::strerror(errno)));
  }
  files.made = true;
  return files;
}

base::Expected<CertificateFiles> given_certificate(const fs::path& certificate, const fs::path& key,
                                                   When now) {
  base::Problems problems;
  const Certificate read = certificate_in(certificate);
  if (!read) {
    problems.push_back(bad_file("--certificate", certificate,
                                "there is no certificate in this file",
                                "give a file in PEM, with the chain after it if there is one"));
  } else if (!good_at(*read, now)) {
    problems.push_back(bad_file("--certificate", certificate, "the certificate is not good today",
                                "renew it, or look at this machine's clock"));
  }
  const Key read_key = key_in(key);
  if (!read_key) {
    problems.push_back(bad_file("--key", key, "there is no key without passphrase in this file",
                                "give the certificate's key in PEM"));
  } else if (read && X509_check_private_key(read.get(), read_key.get()) != 1) {
    problems.push_back(bad_file("--key", key, "the key does not belong to the certificate",
                                "give the key that the certificate was made with"));
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  return CertificateFiles{certificate, key, false};
}

std::string fingerprint(const fs::path& certificate) {
  const Certificate read = certificate_in(certificate);
  unsigned char digest[EVP_MAX_MD_SIZE] = {};
  unsigned count = 0;
  if (!read || X509_digest(read.get(), EVP_sha256(), digest, &count) != 1) return {};
  std::string text;
  for (unsigned i = 0; i < count; ++i) text += fmt::format("{}{:02X}", i > 0 ? ":" : "", digest[i]);
  return text;
}

std::vector<std::string> network_addresses() {
  return own_addresses();
}

}  // namespace propwright::server
