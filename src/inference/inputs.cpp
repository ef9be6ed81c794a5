// SPDX-License-Identifier: MIT
#include "inference/inputs.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "base/side_by_side.hpp"
#include "inference/sampling.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>

namespace tidemark::inference {
namespace {

double number(const std::string& text) {
    return base::parse(text, base::Dimension::number, "spread");
}

} // namespace

double Distribution::at(double u) const {
    switch (kind) {
    case Kind::lognormal:
        return a * std::pow(b, normal_score(u));
    case Kind::normal:
        return a + b * normal_score(u);
    case Kind::uniform:
        return a + (b - a) * u;
    case Kind::fixed:
        break;
    }
    return a;
}

bool Distribution::certain() const {
    return kind == Kind::fixed || b == (kind == Kind::lognormal ? 1 : kind == Kind::normal ? 0 : a);
}

Distribution factor_spread(const std::string& spread, double value) {
    using enum Distribution::Kind;
    if (spread == "none stated") {
        return {};
    }
    if (spread.starts_with("gsd ")) {
        return {lognormal, 1, number(spread.substr(4))};
    }
    if (spread.starts_with("sd ")) {
        return {normal, 1, number(spread.substr(3)) / value};
    }
    const auto dots = spread.find(" .. ");
    if (!spread.starts_with("range ") || dots == std::string::npos) {
        throw base::RunError("a spread cannot be read: " + spread);
    }
    return {uniform, number(spread.substr(6, dots - 6)) / value,
            number(spread.substr(dots + 4)) / value};
}

Distribution shift_spread(const std::string& spread) {
    if (spread == "none stated") {
        return {Distribution::Kind::fixed, 0, 0};
    }
    if (!spread.starts_with("sd ")) {
        throw base::RunError("a spread is not a standard deviation: " + spread);
    }
    return {Distribution::Kind::normal, 0, number(spread.substr(3))};
}

void Inputs::add(const Input& input) {
    if (!input.spread.certain()) {
        list_.push_back(input);
    }
}

int Inputs::column(const std::string& name) const {
    const auto found = std::ranges::find(list_, name, &Input::name);
    return found == list_.end() ? -1 : static_cast<int>(found - list_.begin());
}

std::vector<std::string> Inputs::groups() const {
    std::vector<std::string> names;
    for (const Input& input : list_) {
        if (std::ranges::count(names, input.group) == 0) {
            names.push_back(input.group);
        }
    }
    return names;
}

std::vector<int> Inputs::group_of_columns() const {
    const std::vector<std::string> names = groups();
    std::vector<int> group;
    for (const Input& input : list_) {
        group.push_back(static_cast<int>(std::ranges::find(names, input.group) - names.begin()));
    }
    return group;
}

void Inputs::joint(const std::vector<std::string>& names, const Eigen::VectorXd& log_mean,
                   const Eigen::MatrixXd& log_covariance) {
    joint_.clear();
    for (const std::string& name : names) {
        if (column(name) < 0) {
            list_.push_back({name, name, {}});
        }
        joint_.push_back(column(name));
        list_[joint_.back()].group = list_[joint_.front()].group;
    }
    join(log_mean, log_covariance);
}

void Inputs::share(const std::vector<Input>& with, const Eigen::MatrixXd& log_covariance) {
    Eigen::VectorXd mean(log_covariance.rows());
    Eigen::MatrixXd covariance = log_covariance;
    joint_.clear();
    for (const Input& input : with) {
        if (column(input.name) < 0) {
            list_.push_back({input.name, input.group, {Distribution::Kind::lognormal, 1, 1}});
        }
        const int own = column(input.name);
        const Distribution& spread = list_[own].spread;
        if (spread.kind != Distribution::Kind::lognormal) {
            throw base::RunError(input.name + " has no lognormal spread to share");
        }
        const auto i = static_cast<Eigen::Index>(joint_.size());
        joint_.push_back(own);
        mean[i] = std::log(spread.a);
        covariance(i, i) += std::pow(std::log(spread.b), 2);
    }
    join(mean, covariance);
}

void Inputs::join(const Eigen::VectorXd& log_mean, const Eigen::MatrixXd& log_covariance) {
    const Eigen::LLT<Eigen::MatrixXd> factor(log_covariance);
    if (factor.info() != Eigen::Success) {
        throw base::RunError("a covariance is not positive definite");
    }
    mean_ = log_mean;
    root_ = factor.matrixL();
    for (std::size_t k = 0; k < joint_.size(); ++k) { // each by itself, for who asks
        const auto i = static_cast<Eigen::Index>(k);
        list_[joint_[k]].spread = {Distribution::Kind::lognormal, std::exp(log_mean[i]),
                                   std::exp(std::sqrt(log_covariance(i, i)))};
    }
}

Eigen::MatrixXd Inputs::log_covariance(const std::vector<std::string>& names) const {
    const auto n = static_cast<Eigen::Index>(names.size());
    const Eigen::MatrixXd joint = root_ * root_.transpose();
    Eigen::MatrixXd c = Eigen::MatrixXd::Zero(n, n);
    const auto place = [&](int column) { // among the joint ones
        return std::ranges::find(joint_, column) - joint_.begin();
    };
    for (Eigen::Index i = 0; i < n; ++i) {
        const int a = column(names[static_cast<std::size_t>(i)]);
        if (a < 0 || list_[a].spread.kind != Distribution::Kind::lognormal) {
            continue;
        }
        c(i, i) = std::pow(std::log(list_[a].spread.b), 2);
        for (Eigen::Index j = 0; j < i; ++j) {
            const int b = column(names[static_cast<std::size_t>(j)]);
            if (b >= 0 && std::max(place(a), place(b)) < std::ssize(joint_)) {
                c(i, j) = c(j, i) = joint(place(a), place(b));
            }
        }
    }
    return c;
}

Eigen::MatrixXd Inputs::values(Eigen::MatrixXd u) const {
    std::vector<bool> alone(static_cast<std::size_t>(u.cols()), true);
    for (const int column : joint_) {
        alone[static_cast<std::size_t>(column)] = false;
    }
    constexpr Eigen::Index part = 256;
    base::side_by_side(static_cast<std::size_t>((u.rows() + part - 1) / part), [&](std::size_t p) {
        const auto from = static_cast<Eigen::Index>(p) * part;
        Eigen::VectorXd logs;
        for (Eigen::Index i = from; i < std::min(u.rows(), from + part); ++i) {
            logs = mean_;
            for (std::size_t k = 0; k < joint_.size(); ++k) {
                logs += normal_score(u(i, joint_[k])) * root_.col(static_cast<Eigen::Index>(k));
            }
            for (Eigen::Index j = 0; j < u.cols(); ++j) {
                if (alone[static_cast<std::size_t>(j)]) {
                    u(i, j) = list_[j].spread.at(u(i, j));
                }
            }
            for (std::size_t k = 0; k < joint_.size(); ++k) {
                u(i, joint_[k]) = std::exp(logs[static_cast<Eigen::Index>(k)]);
            }
        }
    });
    return u;
}

} // namespace tidemark::inference
