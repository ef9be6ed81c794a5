// SPDX-License-Identifier: MIT
#include "verification/cvode.hpp"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_spgmr.h>

#include <Eigen/SparseCholesky>

#include <memory>
#include <stdexcept>

namespace tidemark::verification {
namespace {

using Vector = Eigen::VectorXd;
using Map = Eigen::Map<Vector>;

Map map(N_Vector v) {
    return {N_VGetArrayPointer(v), N_VGetLength(v)};
}

/// y = (u, integral of u). Written from the equation in system.hpp, not from the code that solves
/// it.
struct Problem {
    const transport::System& system;
    const Forcing& forcing;
    Eigen::SparseMatrix<double> spatial; ///< K + C L, the row of a held bath emptied
    Vector capacity;
    Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor;
    double gamma = 0;

    Problem(const transport::System& s, const Forcing& f) : system(s), forcing(f) {
        capacity = s.capacity;
        Eigen::VectorXd loss = s.loss;
        if (s.held)
            capacity[s.bath()] = 1, loss[s.bath()] = 0;
        spatial = s.conductance;
        for (int k = 0; k < spatial.outerSize(); ++k)
            for (Eigen::SparseMatrix<double>::InnerIterator it(spatial, k); it; ++it) {
                if (s.held && it.row() == s.bath())
                    it.valueRef() = 0;
                if (it.row() == it.col())
                    it.valueRef() += capacity[k] * loss[k];
            }
        spatial.prune(0.0);
    }

    int size() const { return static_cast<int>(capacity.size()); }
};

Problem& problem(void* data) {
    return *static_cast<Problem*>(data);
}

int right_side(realtype t, N_Vector y, N_Vector slope, void* data) {
    const Problem& p = problem(data);
    const int n = p.size();
    Vector push = -(p.spatial * map(y).head(n));
    if (p.forcing) {
        Vector f = p.forcing(t);
        if (p.system.held)
            f[p.system.bath()] = 0;
        push += f;
    }
    map(slope).head(n) = push.cwiseQuotient(p.capacity);
    map(slope).tail(n) = map(y).head(n);
    return 0;
}

int times_jacobian(N_Vector v, N_Vector out, realtype, N_Vector, N_Vector, void* data, N_Vector) {
    const Problem& p = problem(data);
    const int n = p.size();
    map(out).head(n) = -(p.spatial * map(v).head(n)).cwiseQuotient(p.capacity);
    map(out).tail(n) = map(v).head(n);
    return 0;
}

int set_up(realtype, N_Vector, N_Vector, booleantype, booleantype* current, realtype gamma,
           void* data) {
    Problem& p = problem(data);
    Eigen::SparseMatrix<double> m = gamma * p.spatial;
    // The held bath's column still couples the cells to a bath that does not move; dropping it
    // keeps the factor symmetric, and GMRES corrects for it.
    if (p.system.held)
        m.prune([&](int row, int col, double) {
            return (row != p.system.bath() && col != p.system.bath());
        });
    m += Eigen::SparseMatrix<double>(p.capacity.asDiagonal());
    p.factor.compute(m);
    p.gamma = gamma;
    *current = SUNTRUE;
    return p.factor.info() == Eigen::Success ? 0 : -1;
}

int solve(realtype, N_Vector, N_Vector, N_Vector r, N_Vector z, realtype, realtype, int,
          void* data) {
    const Problem& p = problem(data);
    const int n = p.size();
    map(z).head(n) = p.factor.solve(p.capacity.cwiseProduct(map(r).head(n)));
    map(z).tail(n) = map(r).tail(n) + p.gamma * map(z).head(n);
    return 0;
}

void check(int flag, const char* what) {
    if (flag < 0)
        throw std::runtime_error(std::string("CVODE failed in ") + what);
}

} // namespace

std::vector<Vector> integrate(const transport::System& system, const std::vector<double>& times,
                              double relative, const Forcing& forcing) {
    Problem p(system, forcing);
    SUNContext context = nullptr;
    check(SUNContext_Create(nullptr, &context), "SUNContext_Create");
    N_Vector y = N_VNew_Serial(2 * p.size(), context);
    map(y) << system.initial, Vector::Zero(p.size());
    void* memory = CVodeCreate(CV_BDF, context);
    check(CVodeInit(memory, right_side, 0, y), "CVodeInit");
    // The integral grows with time, so its absolute tolerance is the concentration's over the span.
    N_Vector absolute = N_VNew_Serial(2 * p.size(), context);
    map(absolute) << Vector::Constant(p.size(), relative / 10),
        Vector::Constant(p.size(), relative / 10 * times.back());
    check(CVodeSVtolerances(memory, relative, absolute), "CVodeSVtolerances");
    check(CVodeSetUserData(memory, &p), "CVodeSetUserData");
    check(CVodeSetMaxNumSteps(memory, 100000), "CVodeSetMaxNumSteps");
    SUNLinearSolver solver = SUNLinSol_SPGMR(y, SUN_PREC_LEFT, 10, context);
    check(CVodeSetLinearSolver(memory, solver, nullptr), "CVodeSetLinearSolver");
    check(CVodeSetJacTimes(memory, nullptr, times_jacobian), "CVodeSetJacTimes");
    check(CVodeSetPreconditioner(memory, set_up, solve), "CVodeSetPreconditioner");
    std::vector<Vector> states;
    for (double t : times) {
        double reached = 0;
        check(CVode(memory, t, y, &reached, CV_NORMAL), "CVode");
        states.push_back(map(y));
    }
    CVodeFree(&memory);
    SUNLinSolFree(solver);
    N_VDestroy(absolute);
    N_VDestroy(y);
    SUNContext_Free(&context);
    return states;
}

} // namespace tidemark::verification
