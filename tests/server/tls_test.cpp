// HTTPS with a certificate of our own: kept, made anew when it must be, and served.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <openssl/pem.h>
#include <openssl/x509v3.h>
#include <sys/stat.h>

#include <filesystem>
#include <fstream>

#include "pages.h"

namespace propwright::server::test {
namespace {

namespace fs = std::filesystem;
using namespace std::chrono_literals;

/// A folder of its own, gone at the end.
class TlsFolder {
 public:
  TlsFolder() {
    std::string form = (fs::temp_directory_path() / "propwright-tls-XXXXXX").string();
    path_ = mkdtemp(form.data());
  }
  ~TlsFolder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  TlsFolder(const TlsFolder&) = delete;
  TlsFolder& operator=(const TlsFolder&) = delete;
  const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

const auto now = std::chrono::system_clock::now();

CertificateFiles made(const fs::path& folder, const std::vector<std::string>& hosts = {},
                      std::chrono::system_clock::time_point when = now) {
  const auto files = own_certificate(folder, hosts, when);
  if (!files) throw std::runtime_error(base::to_line(files.error().front()));
  return *files;
}

TEST(Certificate, IsKeptWhileItServes) {
  const TlsFolder folder;
  const CertificateFiles first = made(folder.path(), {"192.168.1.20"});
  EXPECT_TRUE(first.made);
  const std::string print = fingerprint(first.certificate);
  EXPECT_EQ(print.size(), 32 * 3 - 1);
  EXPECT_FALSE(made(folder.path(), {"192.168.1.20"}).made);
  EXPECT_FALSE(made(folder.path(), {}).made);
  EXPECT_FALSE(made(folder.path(), {}, now + 24h * 800).made);
  EXPECT_EQ(fingerprint(first.certificate), print);
  struct stat status {};
  ASSERT_EQ(stat(first.key.c_str(), &status), 0);
  EXPECT_EQ(status.st_mode & 0777, 0600) << "nobody else reads the key";
}

TEST(Certificate, IsMadeAnewForAnotherAddressBeforeItsEndAndWhenDamaged) {
  const TlsFolder folder;
  const std::string print = fingerprint(made(folder.path(), {"192.168.1.20"}).certificate);
  EXPECT_TRUE(made(folder.path(), {"192.168.1.21"}).made);
  EXPECT_TRUE(made(folder.path(), {"192.168.1.21"}, now + 24h * 815).made);
  std::ofstream(folder.path() / "propwright-key.pem") << "damaged";
  const CertificateFiles again = made(folder.path(), {"192.168.1.21"});
  EXPECT_TRUE(again.made);
  EXPECT_NE(fingerprint(again.certificate), print);
}

// It is an authority for these addresses alone: its key vouches for no other site.
TEST(Certificate, VouchesForItsOwnAddressesOnly) {
  const TlsFolder folder;
  const CertificateFiles files = made(folder.path(), {"192.168.1.20", "bench.local", "fe80::1"});
  std::FILE* file = std::fopen(files.certificate.c_str(), "r");
  ASSERT_NE(file, nullptr);
  X509* read = PEM_read_X509(file, nullptr, nullptr, nullptr);
  std::fclose(file);
  ASSERT_NE(read, nullptr);
  int critical = 0;
  auto* const limits = static_cast<NAME_CONSTRAINTS*>(
      X509_get_ext_d2i(read, NID_name_constraints, &critical, nullptr));
  ASSERT_NE(limits, nullptr);
  EXPECT_EQ(critical, 1);
  EXPECT_EQ(sk_GENERAL_SUBTREE_num(limits->permittedSubtrees), 6);  // loopback's three too
  NAME_CONSTRAINTS_free(limits);
  X509_free(read);
}

TEST(Certificate, OfTheUserMustFitItsKeyAndTheDay) {
  const TlsFolder one, other;
  const CertificateFiles files = made(one.path()), foreign = made(other.path());
  EXPECT_TRUE(given_certificate(files.certificate, files.key, now).has_value());
  const auto field = [](const base::Expected<CertificateFiles>& found) {
    return found ? std::string("none") : found.error().front().field;
  };
  EXPECT_EQ(field(given_certificate(files.certificate, foreign.key, now)), "--key");
  EXPECT_EQ(field(given_certificate(files.key, files.key, now)), "--certificate");
  EXPECT_EQ(field(given_certificate(one.path() / "none", files.key, now)), "--certificate");
  EXPECT_EQ(field(given_certificate(files.certificate, one.path() / "none", now)), "--key");
  EXPECT_EQ(field(given_certificate(files.certificate, files.key, now + 24h * 900)),
            "--certificate");
  EXPECT_EQ(own_certificate(one.path() / "nowhere", {}, now).error().front().kind,
            base::Kind::resource_failed);
}

TEST(Certificate, ServesThePagesAndNothingInPlain) {
  const TlsFolder folder;
  const CertificateFiles files = made(folder.path());
  Options options;
  options.tls = files;
  Pages pages(options);
  EXPECT_THAT(pages.server().address(), testing::StartsWith("https://127.0.0.1:"));
  httplib::SSLClient client("127.0.0.1", pages.server().port());
  client.set_ca_cert_path(files.certificate.c_str());
  client.enable_server_certificate_verification(true);
  const auto health = client.Get("/api/health");
  ASSERT_TRUE(health) << httplib::to_string(health.error());
  EXPECT_EQ(health->status, 200);
  const auto certificate = client.Get("/propwright-certificate.crt");
  ASSERT_TRUE(certificate);
  EXPECT_EQ(certificate->get_header_value("Content-Type"), "application/x-x509-ca-cert");
  EXPECT_THAT(certificate->body, testing::StartsWith("-----BEGIN CERTIFICATE-----"));
  const std::string own = "https://127.0.0.1:" + std::to_string(pages.server().port());
  const auto post = [&](const std::string& origin) {
    const auto reply = client.Post("/api/halls", {{"Origin", origin}}, "{}", "application/json");
    return reply ? reply->status : 0;
  };
  EXPECT_EQ(post(own), 422);
  EXPECT_EQ(post("http" + own.substr(5)), 403) << "the same name in plain is another site";
  httplib::Client plain("127.0.0.1", pages.server().port());
  EXPECT_FALSE(plain.Get("/api/health"));
}

TEST(Certificate, IsNotServedInPlain) {
  const Pages pages;
  EXPECT_EQ(pages.get("/propwright-certificate.crt").status, 404);
}

TEST(Certificate, AFileThatIsNoneIsTold) {
  Options options;
  options.tls = CertificateFiles{"/nowhere/certificate.pem", "/nowhere/key.pem", false};
  options.port = 0;
  const auto server = Server::listen(workshop::Workshop::in_memory().value(), options);
  ASSERT_FALSE(server.has_value());
  EXPECT_EQ(server.error().front().field, "--tls");
}

}  // namespace
}  // namespace propwright::server::test
