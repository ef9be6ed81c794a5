// SPDX-License-Identifier: MIT
#include "inference/learn.hpp"

#include "base/text.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::inference {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr const char* names[] = {"diffusivity", "nitrite-ratio", "loss", "eye"};
constexpr double says_nothing = 0.9; ///< posterior over prior standard deviation [1]
constexpr double conflict = 0.01;    ///< surprise that is spoken of, over all batches [1]

/// Equal slices of one trial.
struct Equal {
    Slice slice;
    std::vector<std::size_t> places; ///< among all
    double count() const { return static_cast<double>(places.size()); }
};

/// All slices of one trial.
struct Group {
    const Trial* trial;
    std::vector<Equal> equal;
    std::vector<Slice> slices() const {
        std::vector<Slice> list;
        for (const Equal& e : equal)
            list.push_back(e.slice);
        return list;
    }
    VectorXd counts() const {
        VectorXd n(std::ssize(equal));
        for (Index k = 0; k < n.size(); ++k)
            n[k] = equal[static_cast<std::size_t>(k)].count();
        return n;
    }
};

std::vector<Group> groups_of(const std::vector<Seen>& seen) {
    std::vector<Group> groups;
    for (std::size_t i = 0; i < seen.size(); ++i) {
        const auto same = std::ranges::find(groups, seen[i].trial.get(), &Group::trial);
        Group& group =
            same == groups.end() ? groups.emplace_back(Group{seen[i].trial.get(), {}}) : *same;
        const auto equal = std::ranges::find(group.equal, seen[i].slice, &Equal::slice);
        if (equal == group.equal.end())
            group.equal.push_back({seen[i].slice, {i}});
        else
            equal->places.push_back(i);
    }
    return groups;
}

/// Of one lesson, the logarithm in each shop.
VectorXd logs_of(const Learnt& l, Lesson which) {
    const Shops& s = which == Lesson::salt ? l.by_salt.shops : l.cloud.shops;
    switch (which) {
    case Lesson::nitrite:
        return s.col(salt_speed) + s.col(nitrite_ratio);
    case Lesson::salt:
        return s.col(salt_speed);
    case Lesson::loss:
        return s.col(loss_rate);
    case Lesson::pieces:
        break;
    }
    return s.col(piece_spread).array() + std::log(l.prior.piece_speed);
}

const Cloud& cloud_for(const Learnt& l, Lesson which) {
    return which == Lesson::salt ? l.by_salt : l.cloud;
}

bool salt_measured(const std::vector<Seen>& seen) {
    return std::ranges::any_of(
        seen, [](const Seen& s) { return inference::salt_measured(s.slice.found); });
}

void explain(Learnt& l, const std::vector<Seen>& seen) {
    const bool salt = salt_measured(seen);
    l.bound =
        !seen.empty() && std::ranges::all_of(seen, [](const Seen& s) { return s.slice.through; });
    const char* would[] = {
        "how fast it moves is not sure yet: slices with both pink and grey, cut some days before "
        "the pull day, tell most",
        "a ring is nitrite's alone: salt of a grey core or a whole slice, measured "
        "(--found-core-salt, --found-mean-salt), would tell",
        "not told yet: a slice of a thick piece left long would tell",
        "not told yet how far yours differ: more slices would tell"};
    for (const Lesson which : {Lesson::nitrite, Lesson::salt, Lesson::loss, Lesson::pieces}) {
        const auto k = static_cast<std::size_t>(which);
        l.told[k] = !seen.empty() && (which != Lesson::salt || salt) &&
                    l.log_sd(which) <= says_nothing * l.log_sd_before(which);
        if (!l.told[k])
            l.reason[k] = seen.empty() ? "no batch has been sliced yet" : would[k];
    }
}

/// Shop's paces of salt and nitrite, loss and eye; the salt's own as the salt alone has it, going
/// with the others as all that was seen has it.
void next_shop(Learnt& l, bool salt) {
    Eigen::Matrix4d to = Eigen::Matrix4d::Identity();
    to(nitrite_ratio, salt_speed) = 1; // the ratio's place holds nitrite's pace
    Eigen::Vector4d mean = to * l.cloud.mean().head<4>();
    Eigen::Matrix4d c = to * l.cloud.covariance().topLeftCorner<4, 4>() * to.transpose();
    mean[salt_speed] = salt ? l.by_salt.mean()[salt_speed] : 0;
    const double own = salt ? l.by_salt.covariance()(salt_speed, salt_speed)
                            : l.prior.covariance(salt_speed, salt_speed),
                 wider = std::sqrt(own / c(salt_speed, salt_speed));
    c.row(salt_speed) *= wider;
    c.col(salt_speed) *= wider;
    Eigen::Matrix4d back = Eigen::Matrix4d::Identity();
    back(nitrite_ratio, salt_speed) = -1;
    l.log_mean = back * mean;
    l.log_covariance = back * c * back.transpose();
    l.piece_speed =
        l.prior.piece_speed *
        std::sqrt(l.cloud.shares.dot((2 * l.cloud.shops.col(piece_spread).array()).exp().matrix()));
}

} // namespace

Learnt learn(const ShopPrior& prior, const std::vector<Seen>& seen, int points) {
    Learnt l;
    l.batches = static_cast<int>(seen.size());
    l.prior = prior;
    const std::vector<Group> groups = groups_of(seen);
    std::vector<MatrixXd> logs; // of each group, of the last shops asked for
    const auto by = [&](const Shops& shops, bool salt_alone) {
        VectorXd sum = VectorXd::Zero(shops.rows());
        logs.clear();
        for (const Group& g : groups) {
            logs.push_back(g.trial->log_likelihood(g.slices(), shops, salt_alone));
            sum += logs.back() * g.counts();
        }
        return sum;
    };
    l.cloud = weighed(prior, points, [&](const Shops& shops) { return by(shops, false); });
    const std::vector<MatrixXd> all = logs;
    VectorXd sum = VectorXd::Zero(points);
    for (std::size_t g = 0; g < groups.size(); ++g)
        sum += all[g] * groups[g].counts();
    l.surprises.resize(seen.size());
    for (std::size_t g = 0; g < groups.size(); ++g) {
        MatrixXd others(points, all[g].cols());
        for (Index k = 0; k < others.cols(); ++k)
            others.col(k) = shares_of(l.cloud.start, sum - all[g].col(k));
        const VectorXd surprise =
            groups[g].trial->surprises(groups[g].slices(), l.cloud.shops, others);
        for (std::size_t k = 0; k < groups[g].equal.size(); ++k)
            for (const std::size_t i : groups[g].equal[k].places)
                l.surprises[i] = surprise[static_cast<Index>(k)];
    }
    const bool salt = salt_measured(seen);
    l.by_salt = weighed(prior, points, [&](const Shops& shops) {
        return salt ? by(shops, true) : VectorXd::Zero(points);
    });
    next_shop(l, salt);
    for (std::size_t i = 0; i < seen.size(); ++i) {
        if (const double surprise = l.surprises[i];
            surprise * static_cast<double>(seen.size()) < conflict) {
            l.conflicts.push_back("batch " + std::to_string(i + 1) + " does not fit " +
                                  (seen.size() > 1 ? "the others" : "what is known of such meat") +
                                  ": a slice as far off is seen once in " +
                                  base::significant(1 / std::max(surprise, 1e-6), 1) +
                                  "; look for a slip in what was told");
        }
    }
    explain(l, seen);
    return l;
}

double Learnt::quantile(Lesson which, double q) const {
    const VectorXd logs = logs_of(*this, which), &shares = cloud_for(*this, which).shares;
    std::vector<std::pair<double, double>> points;
    for (Index m = 0; m < logs.size(); ++m)
        points.emplace_back(logs[m], shares[m]);
    std::ranges::sort(points);
    double before = 0;
    for (const auto& [log, share] : points) {
        before += share;
        if (before >= q)
            return std::exp(log);
    }
    return std::exp(points.back().first);
}

double Learnt::log_sd(Lesson which) const {
    const VectorXd logs = logs_of(*this, which), &shares = cloud_for(*this, which).shares;
    return std::sqrt(shares.dot((logs.array() - shares.dot(logs)).square().matrix()));
}

double Learnt::log_sd_before(Lesson which) const {
    const auto& c = prior.covariance;
    const double both = c(salt_speed, salt_speed) + c(nitrite_ratio, nitrite_ratio) +
                        2 * c(salt_speed, nitrite_ratio);
    return std::sqrt(which == Lesson::nitrite ? both
                     : which == Lesson::salt  ? c(salt_speed, salt_speed)
                     : which == Lesson::loss  ? c(loss_rate, loss_rate)
                                              : c(piece_spread, piece_spread));
}

Inputs learnt_inputs(Inputs inputs, const Learnt& l, Whose whose) {
    Eigen::Matrix4d c = whose == Whose::next_piece ? l.log_covariance : Eigen::Matrix4d::Zero();
    c(salt_speed, salt_speed) += l.piece_speed * l.piece_speed;
    c(loss_rate, loss_rate) += l.prior.piece_loss * l.prior.piece_loss;
    c.diagonal().array() += 1e-8; // what does not vary
    std::vector<std::string> there;
    std::vector<int> of;
    for (int k = 0; k < 4; ++k) {
        if (inputs.column(names[k]) >= 0) {
            there.push_back(names[k]);
            of.push_back(k);
        }
    }
    inputs.joint(there, l.log_mean(of), c(of, of));
    return inputs;
}

} // namespace tidemark::inference
